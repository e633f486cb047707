"""Loads the product once, then starts each server as a fork: ``python -m tests.browser.mother``.

It reads one line for each server, ``{"var": folder, "port": number}``, and answers with the number of its process. To
load the product takes over a second of a core, and most browser tests have a shop of their own.
"""

import importlib
import json
import os
import signal
import sys
from pathlib import Path


def load() -> None:
    """Load whatever a server loads with its first page; nothing of it may ask a database."""
    from django.conf import settings
    from django.template.loader import get_template
    from django.urls import get_resolver

    import fabshop.wsgi  # noqa: F401  the door that every fork serves

    get_resolver().url_patterns  # noqa: B018  names every view
    for folder in settings.TEMPLATES[0]["DIRS"]:
        for page in folder.rglob("*.html"):
            get_template(str(page.relative_to(folder)))


def serve(var: Path, port: int) -> None:
    """Serve the shop of a folder, in this process, as a server that was started with that folder would."""
    import waitress
    from django.conf import settings
    from django.core.signals import setting_changed
    from django.db import connections

    import fabshop.settings
    from fabshop.wsgi import application

    os.environ["FABSHOP_VAR"] = str(var)
    fresh = importlib.reload(fabshop.settings)
    for name in filter(str.isupper, dir(fresh)):
        setattr(settings, name, getattr(fresh, name))
        setting_changed.send(sender=None, setting=name, value=getattr(fresh, name), enter=True)
    connections.settings = connections.configure_settings(settings.DATABASES)
    for alias in connections:
        if hasattr(connections._connections, alias):
            del connections[alias]
    waitress.serve(application, listen=f"127.0.0.1:{port}", threads=8)


def in_a_fork(var: Path, port: int) -> int:
    """Serve in a process of its own, whose words go to ``server.log`` in the folder; returns its number."""
    child = os.fork()
    if child:
        return child
    try:
        os.setsid()
        signal.signal(signal.SIGCHLD, signal.SIG_DFL)
        log = os.open(var / "server.log", os.O_WRONLY | os.O_CREAT | os.O_APPEND)
        for stream in (1, 2):
            os.dup2(log, stream)
        os.dup2(os.open(os.devnull, os.O_RDONLY), 0)
        serve(var, port)
    finally:
        os._exit(1)


if __name__ == "__main__":
    signal.signal(signal.SIGCHLD, signal.SIG_IGN)  # servers that end are nobody's to wait for
    load()
    for line in sys.stdin:
        asked = json.loads(line)
        print(in_a_fork(Path(asked["var"]), asked["port"]), flush=True)
