"""Being told to end, by a batch system for example, is taken like Ctrl-C."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager


@contextmanager
def stop_on_terminate() -> Iterator[None]:
    """Raise `KeyboardInterrupt` when the process is told to end, so that it can clean up."""
    import signal

    def stop(number: int, frame: object) -> None:
        raise KeyboardInterrupt

    before = signal.signal(signal.SIGTERM, stop)
    try:
        yield
    finally:
        signal.signal(signal.SIGTERM, before)
