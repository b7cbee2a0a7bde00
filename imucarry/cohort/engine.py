"""Tasks through a standard executor; a worker killed from outside costs only its own task.

When a worker of a process pool dies, the whole pool breaks and every task in
flight is lost with it. So few tasks are kept in flight; after a break the pool
is built anew and each suspect runs alone, where only the guilty one dies again.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import FIRST_COMPLETED, BrokenExecutor, Executor, Future, wait
from contextlib import AbstractContextManager

from imucarry.cohort.task import BUG, Outcome, Task, do_task

Work = Callable[[Task], Outcome]
Open = Callable[[int], AbstractContextManager[Executor]]
"""Opens an executor with the given number of workers; ends it on leaving, at once on an error."""
Lost = Callable[[BaseException], bool]
"""Tells whether an error of a future means that its worker is gone."""

KILLED = "WorkerKilled"
IN_FLIGHT_A_WORKER = 2
_KILLED_MESSAGE = (
    "the worker process was killed from outside (out of memory?); "
    "run the same command again to retry this session"
)


def run_tasks(
    tasks: Sequence[Task],
    workers: int,
    open_executor: Open,
    *,
    is_lost: Lost,
    work: Work = do_task,
) -> Iterator[Outcome]:
    """Run tasks; yield outcomes as they come, one a task.

    Parameters
    ----------
    tasks : sequence of Task
    workers : int
        How many tasks the executor runs at once.
    open_executor : callable
    is_lost : callable
    work : callable
        What a worker does with a task; a module-level function.

    Notes
    -----
    1. At most two tasks a worker are in flight, so that a broken pool has few suspects.
    2. Suspects run one at a time in an executor of one; who dies there is guilty.
    """
    waiting, suspects = deque(tasks), deque[Task]()
    while waiting or suspects:
        queue = suspects or waiting
        alone = queue is suspects
        lost: list[Task] = []
        with open_executor(1 if alone else workers) as pool:
            depth = 1 if alone else IN_FLIGHT_A_WORKER * workers
            yield from _until_broken(pool, queue, lost, depth, work, is_lost)
        if alone:
            yield from (Outcome(task.number, KILLED, _KILLED_MESSAGE, False) for task in lost)
        else:
            suspects.extend(lost)


def _until_broken(
    pool: Executor,
    waiting: deque[Task],
    lost: list[Task],
    depth: int,
    work: Work,
    is_lost: Lost,
) -> Iterator[Outcome]:
    """Run tasks in one executor until all are done or one is lost; collect the lost ones."""
    flying: dict[Future[Outcome], Task] = {}
    while (waiting and not lost) or flying:
        while waiting and not lost and len(flying) < depth:
            task = waiting.popleft()
            try:
                flying[pool.submit(work, task)] = task
            except BrokenExecutor:
                lost.append(task)
        done, _ = wait(flying, return_when=FIRST_COMPLETED)
        for future in done:
            task = flying.pop(future)
            outcome = _outcome(future, task, is_lost)
            if outcome is None:
                lost.append(task)
            else:
                yield outcome


def _outcome(future: Future[Outcome], task: Task, is_lost: Lost) -> Outcome | None:
    """Return how a task ended, None when its worker is gone."""
    error = future.exception()
    if error is None:
        return future.result()
    if is_lost(error):
        return None
    return Outcome(task.number, BUG, f"{type(error).__name__}: {error}", lasting=False)
