"""The product's own settings, with the POST beside it that does nothing."""

from fabshop.settings import *  # noqa: F403  everything as it runs

ROOT_URLCONF = "tests.benchmarks.scan_urls"
