"""A cohort's tasks on an existing dask cluster."""

from __future__ import annotations

import contextlib
from collections.abc import Iterator, Sequence
from concurrent.futures import Executor
from typing import Any

from imucarry.basics.errors import OutputError
from imucarry.cohort.engine import Work, run_tasks
from imucarry.cohort.task import Outcome, Task, do_task

CONNECT_S = 30


def run_on_dask(tasks: Sequence[Task], address: str, *, work: Work = do_task) -> Iterator[Outcome]:
    """Run tasks on an existing dask cluster; yield outcomes as they come.

    The workers must see the session folders and the output folder under the
    same paths, and have the same version of imucarry.

    Raises
    ------
    OutputError
        If dask is not installed, or the cluster cannot be reached or has no worker.
    """
    with contextlib.closing(_connect(address)) as client:
        n_cores = sum(client.ncores().values())
        if n_cores == 0:
            raise OutputError(f"the dask cluster at {address!r} has no worker; start some first")

        @contextlib.contextmanager
        def executor(_: int) -> Iterator[Executor]:
            # Leaving cancels what still runs, so that nothing goes on behind an interrupted run.
            pool = client.get_executor(pure=False)
            try:
                yield pool
            finally:
                pool.shutdown(wait=False)

        yield from run_tasks(tasks, n_cores, executor, is_lost=_is_lost, work=work)


def require_dask() -> None:
    """Raise an `OutputError` when the extra is not installed."""
    try:
        import distributed  # noqa: F401 - asked only whether it is there
    except ImportError as error:
        raise OutputError("--dask needs an extra: pip install 'imucarry[dask]'") from error


def _connect(address: str) -> Any:
    require_dask()
    from distributed import Client

    try:
        return Client(  # type: ignore[no-untyped-call]  # ships no types
            address, timeout=CONNECT_S, set_as_default=False
        )
    except (OSError, TimeoutError, ValueError) as error:
        raise OutputError(f"no dask cluster answers at {address!r}: {error}") from error


def _is_lost(error: BaseException) -> bool:
    """Return whether a future's worker is gone: dask names this in several ways."""
    from concurrent.futures import CancelledError

    from distributed import CancelledError as LostByDask
    from distributed import KilledWorker
    from distributed.comm.core import CommClosedError

    return isinstance(error, KilledWorker | CommClosedError | LostByDask | CancelledError)
