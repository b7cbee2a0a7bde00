"""Fresh local processes for a cohort, which never outlive the run that started them."""

from __future__ import annotations

import contextlib
import multiprocessing
import os
import signal
import threading
from collections.abc import Iterator, Sequence
from concurrent.futures import BrokenExecutor, Executor, ProcessPoolExecutor
from multiprocessing.context import SpawnContext
from multiprocessing.process import BaseProcess
from multiprocessing.synchronize import Event
from typing import Any

from imucarry.basics.errors import ImucarryError
from imucarry.basics.threads import THREAD_LIMITS
from imucarry.cohort.engine import Work, run_tasks
from imucarry.cohort.task import Outcome, Task, do_task

_ORPHANED = 1
_NO_WORKER = (
    "no worker process could start; in a script of your own, call the cohort below "
    "'if __name__ == \"__main__\":', because every worker imports the script"
)


def run_locally(tasks: Sequence[Task], workers: int, *, work: Work = do_task) -> Iterator[Outcome]:
    """Run tasks in local processes; yield outcomes as they come.

    Parameters
    ----------
    tasks : sequence of Task
    workers : int
        Number of processes.
    work : callable
        What a worker does with a task; a module-level function.
    """
    with one_thread_a_worker():
        yield from run_tasks(tasks, workers, local_processes, is_lost=_is_broken, work=work)


def usable_cores() -> int:
    """Return how many cores this process may use; batch systems give fewer than there are."""
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1


def _is_broken(error: BaseException) -> bool:
    return isinstance(error, BrokenExecutor)


class _Recording(SpawnContext):
    """A way of starting processes that remembers them, so that they can be ended at once."""

    def __init__(self) -> None:
        super().__init__()
        self.started: list[BaseProcess] = []

    # The base class types this as a class attribute.
    def Process(self, *args: Any, **kwargs: Any) -> BaseProcess:  # type: ignore[override]
        process = SpawnContext.Process(*args, **kwargs)
        self.started.append(process)
        return process


@contextlib.contextmanager
def local_processes(workers: int) -> Iterator[Executor]:
    """Give a pool of fresh local processes; on an error or interrupt end them at once.

    Ending them at once is safe because every result is moved into place whole.
    """
    context = _Recording()
    begun = context.Event()
    pool = ProcessPoolExecutor(
        workers, mp_context=context, initializer=begin_work, initargs=(begun,)
    )
    try:
        yield pool
        if not begun.is_set():
            raise ImucarryError(_NO_WORKER)
    except BaseException:
        for process in context.started:
            with contextlib.suppress(ValueError):  # closed already
                process.kill()
        raise
    finally:
        pool.shutdown(wait=True, cancel_futures=True)


def begin_work(begun: Event) -> None:
    """Leave interrupts to the parent, end when it is gone, and say that the worker lives.

    Without this, workers of a parent that was killed would wait for work for ever,
    and finish sessions while the next run scores them too.
    """
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    parent = multiprocessing.parent_process()
    if parent is not None:
        threading.Thread(target=_end_after, args=(parent,), daemon=True).start()
    begun.set()


def _end_after(parent: Any) -> None:
    parent.join()
    os._exit(_ORPHANED)


@contextlib.contextmanager
def one_thread_a_worker() -> Iterator[None]:
    """Hold BLAS threads of processes that are started inside to one."""
    before = {name: os.environ.get(name) for name in THREAD_LIMITS}
    os.environ.update(dict.fromkeys(THREAD_LIMITS, "1"))
    try:
        yield
    finally:
        for name, value in before.items():
            if value is None:
                os.environ.pop(name, None)
            else:
                os.environ[name] = value
