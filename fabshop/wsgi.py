"""The WSGI door for gunicorn and waitress."""

import os

from django.core.wsgi import get_wsgi_application

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "fabshop.settings")
application = get_wsgi_application()

from fabshop.checks import refuse_unsafe_settings  # noqa: E402  needs the settings

refuse_unsafe_settings(ask_database=False)
