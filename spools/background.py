"""Hand a task to the workers, or say that it waits: no page knows whether a broker is there."""

import logging
import time
from typing import Any

from django.db import transaction

log = logging.getLogger(__name__)
PAUSE_S = 10.0  # after one failure nobody waits for the broker again for so long
_no_try_before = 0.0


def after_commit(task: Any, *args: Any) -> None:
    """Send a task once the transaction is committed; a broker that is away is no error: the sweep sends it later."""
    transaction.on_commit(lambda: nudge(task, *args))


def nudge(task: Any, *args: Any) -> bool:
    """Send a task now; return whether the broker took it."""
    global _no_try_before  # noqa: PLW0603  one pause for the whole process
    if time.monotonic() < _no_try_before:
        return False
    try:
        task.apply_async(args=args, retry=False)
    except Exception as trouble:
        log.warning("The task queue does not answer; papers wait. %s", trouble)
        _no_try_before = time.monotonic() + PAUSE_S
        return False
    return True
