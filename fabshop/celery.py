"""Celery: on Redis when one is set, otherwise on a worker thread inside the server's own process."""

import logging
import os
import threading
import time
import warnings
from typing import Any

from celery import Celery, bootsteps
from celery.platforms import SecurityWarning

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "fabshop.settings")

log = logging.getLogger(__name__)
app = Celery("fabshop")
app.config_from_object("django.conf:settings", namespace="CELERY")
app.autodiscover_tasks()


class Sweeping(bootsteps.StartStopStep):
    """With every worker, look for packets left lying, and mail what concerns people where mail is set up.

    It starts once the pool is there, before the worker looks for its broker: it works without one.
    """

    requires = {"celery.worker.components:Pool"}

    def start(self, parent: Any) -> None:
        """Start sweeping beside the worker."""
        threading.Thread(target=_sweep_for_ever, name="sweep", daemon=True).start()


app.steps["worker"].add(Sweeping)


def _sweep_for_ever() -> None:
    from django.conf import settings  # noqa: PLC0415  needs the app registry
    from django.db import close_old_connections, connections  # noqa: PLC0415  as above

    from cutlists.tasks import sweep  # noqa: PLC0415  as above
    from spools.clock import now  # noqa: PLC0415  as above
    from spools.mailing import mail_notices  # noqa: PLC0415  as above

    while True:
        try:
            close_old_connections()
            sweep()
            if settings.MAIL_NOTICES:
                mail_notices(now())
        except Exception as trouble:  # whatever it is, the next look must come: nobody else finds what was left lying
            log.warning("Looking for papers left lying failed; next look in a moment. %s", trouble)
            connections.close_all()
        time.sleep(settings.SWEEP_EVERY_S)


def start_worker_thread() -> threading.Thread:
    """Start a worker inside this process; for the embedded server, where tasks travel in memory."""
    # Nothing but JSON travels, inside this process: who runs it is no danger here.
    warnings.filterwarnings("ignore", category=SecurityWarning)
    worker = app.Worker(
        pool="threads",
        concurrency=1,
        without_heartbeat=True,
        without_mingle=True,
        without_gossip=True,
        loglevel="WARNING",
        quiet=True,  # its banner speaks to whoever runs a worker, not to a shop that serves itself
    )
    thread = threading.Thread(target=worker.start, name="papers", daemon=True)
    thread.start()
    return thread
