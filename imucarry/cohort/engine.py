"""Tasks through a standard executor; a worker killed from outside costs only its own task.

When a worker of a process pool dies, the whole pool breaks and every task in
flight is lost with it. So few tasks are kept in flight; after a break the pool
is built anew and each suspect runs alone, where only the guilty one dies again.
"""

from __future__ import annotations

import contextlib
import os
from collections import deque
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import FIRST_COMPLETED, BrokenExecutor, Executor, Future, wait
from typing import Any

from imucarry.basics.errors import OutputError
from imucarry.cohort.task import Outcome, Task, do_task

MakeExecutor = Callable[[int], Executor]
"""Makes an executor with the given number of workers."""

Work = Callable[[Task], Outcome]

KILLED = "WorkerKilled"
_KILLED_MESSAGE = (
    "the worker process was killed from outside (out of memory?); "
    "run the same command again to retry this session"
)
# BLAS libraries start a thread a core in every worker; with several workers they
# fight for the cores.
_THREAD_LIMITS = (
    *("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS"),
    *("VECLIB_MAXIMUM_THREADS", "NUMEXPR_NUM_THREADS"),
)


def local_processes(workers: int) -> Executor:
    """Return a pool of fresh local processes."""
    import multiprocessing
    from concurrent.futures import ProcessPoolExecutor

    return ProcessPoolExecutor(workers, mp_context=multiprocessing.get_context("spawn"))


@contextlib.contextmanager
def one_thread_a_worker() -> Iterator[None]:
    """Hold BLAS threads of processes that are started inside to one."""
    before = {name: os.environ.get(name) for name in _THREAD_LIMITS}
    os.environ.update(dict.fromkeys(_THREAD_LIMITS, "1"))
    try:
        yield
    finally:
        for name, value in before.items():
            if value is None:
                os.environ.pop(name, None)
            else:
                os.environ[name] = value


def run_locally(
    tasks: Sequence[Task],
    workers: int,
    *,
    work: Work = do_task,
    make_executor: MakeExecutor = local_processes,
) -> Iterator[Outcome]:
    """Run tasks in local processes; yield outcomes as they come.

    Parameters
    ----------
    tasks : sequence of Task
    workers : int
        Number of processes.
    work : callable
        What a worker does with a task; a module-level function.
    make_executor : callable
        Makes the executor; the default starts processes anew (spawn).
    """
    waiting = deque(tasks)
    with one_thread_a_worker():
        while waiting:
            suspects: list[Task] = []
            yield from _until_broken(waiting, suspects, workers, work, make_executor)
            for suspect in suspects:
                yield _alone(suspect, work, make_executor)


def _until_broken(
    waiting: deque[Task],
    suspects: list[Task],
    workers: int,
    work: Work,
    make_executor: MakeExecutor,
) -> Iterator[Outcome]:
    """Run tasks in one pool until all are done or the pool breaks; collect the suspects."""
    flying: dict[Future[Outcome], Task] = {}
    pool = make_executor(workers)
    try:
        while (waiting and not suspects) or flying:
            while waiting and not suspects and len(flying) < 2 * workers:
                task = waiting.popleft()
                try:
                    flying[pool.submit(work, task)] = task
                except BrokenExecutor:
                    suspects.append(task)
            done, _ = wait(flying, return_when=FIRST_COMPLETED)
            for future in done:
                task = flying.pop(future)
                try:
                    yield future.result()
                except BrokenExecutor:
                    suspects.append(task)
    finally:
        pool.shutdown(wait=True, cancel_futures=True)


def _alone(task: Task, work: Work, make_executor: MakeExecutor) -> Outcome:
    with make_executor(1) as pool:
        try:
            return pool.submit(work, task).result()
        except BrokenExecutor:
            return Outcome(task.number, KILLED, _KILLED_MESSAGE, lasting=False)


def run_on_dask(tasks: Sequence[Task], address: str, *, work: Work = do_task) -> Iterator[Outcome]:
    """Run tasks on an existing dask cluster; yield outcomes as they come.

    The workers must see the session folders and the output folder under the
    same paths, and have the same version of imucarry.

    Raises
    ------
    OutputError
        If dask is not installed or the cluster cannot be reached.
    """
    client = _dask_client(address)
    with contextlib.closing(client):
        pool = client.get_executor(pure=False)
        n_cores = max(1, sum(client.ncores().values()))
        waiting = deque(tasks)
        flying: dict[Any, Task] = {}
        while waiting or flying:
            while waiting and len(flying) < 2 * n_cores:
                task = waiting.popleft()
                flying[pool.submit(work, task)] = task
            done, _ = wait(flying, return_when=FIRST_COMPLETED)
            for future in done:
                yield _dask_outcome(future, flying.pop(future))


def _dask_client(address: str) -> Any:
    try:
        from distributed import Client
    except ImportError as error:
        raise OutputError("--dask needs an extra: pip install 'imucarry[dask]'") from error
    try:
        return Client(  # type: ignore[no-untyped-call]
            address, timeout=30, set_as_default=False
        )
    except (OSError, TimeoutError, ValueError) as error:
        raise OutputError(f"no dask cluster answers at {address!r}: {error}") from error


def _dask_outcome(future: Future[Outcome], task: Task) -> Outcome:
    try:
        return future.result()
    except Exception as error:  # dask names a lost worker in several ways
        return Outcome(
            task.number, KILLED, f"{_KILLED_MESSAGE} ({type(error).__name__})", lasting=False
        )
