"""Being told to end, by a batch system or a terminal that closes, is taken like Ctrl-C."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

SIGNALS = ("SIGTERM", "SIGHUP")  # Windows has no SIGHUP


@contextmanager
def stop_on_terminate() -> Iterator[None]:
    """Raise `KeyboardInterrupt` when the process is told to end, so that it can clean up.

    A signal that is ignored, as under ``nohup``, stays so. A second signal does not disturb
    the cleaning up.
    """
    import signal

    numbers = [getattr(signal, name) for name in SIGNALS if hasattr(signal, name)]
    numbers = [number for number in numbers if signal.getsignal(number) is signal.SIG_DFL]

    def stop(number: int, frame: object) -> None:
        for each in numbers:
            signal.signal(each, signal.SIG_IGN)
        raise KeyboardInterrupt

    for number in numbers:
        signal.signal(number, stop)
    try:
        yield
    finally:
        for number in numbers:
            signal.signal(number, signal.SIG_DFL)
