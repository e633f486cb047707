"""What gunicorn does before it serves: refuse a database under which acknowledged work could be lost."""

import os
from typing import Any

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "fabshop.settings")


def on_starting(server: Any) -> None:
    """Ask the database once, before the first worker starts."""
    import django  # noqa: PLC0415  only where gunicorn runs this

    django.setup()
    from fabshop.checks import refuse_unsafe_settings  # noqa: PLC0415  needs the settings

    refuse_unsafe_settings(ask_database=True)
