"""Work that a cohort's workers do in the tests; a module, so that processes can find it."""

from __future__ import annotations

import os
import signal
import time

from imucarry.cohort.task import Outcome, Task


def echo(task: Task) -> Outcome:
    """Say the task's name."""
    return Outcome(task.number, message=task.name)


def die_if_told(task: Task) -> Outcome:
    """Be killed from outside when the name says so, as by a system out of memory."""
    if task.name == "kill":
        os.kill(os.getpid(), getattr(signal, "SIGKILL", signal.SIGTERM))
    time.sleep(0.01)
    return Outcome(task.number, message=task.name)


def die_once(task: Task) -> Outcome:
    """Be killed the first time, then do the work."""
    marker = task.key_file
    if task.name == "kill" and not marker.exists():
        marker.write_text("killed")
        os.kill(os.getpid(), getattr(signal, "SIGKILL", signal.SIGTERM))
    return Outcome(task.number, message=task.name)


def blas_threads(task: Task) -> Outcome:
    """Say how many BLAS threads a worker may use."""
    return Outcome(task.number, message=os.environ.get("OPENBLAS_NUM_THREADS", "unset"))
