"""Serve the embedded shop: one process, the papers drawn on a thread of it."""

from waitress import serve  # type: ignore[import-untyped]

from fabshop.celery import start_worker_thread
from fabshop.checks import refuse_unsafe_settings
from fabshop.wsgi import application

HOST = "127.0.0.1"
THREADS = 8


def serve_here(*, port: int) -> None:
    """Serve on this machine alone until interrupted; tasks run on a worker thread beside the pages."""
    refuse_unsafe_settings(ask_database=True)
    start_worker_thread()
    serve(application, host=HOST, port=port, threads=THREADS, ident=None)
