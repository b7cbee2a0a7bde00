"""How the command line speaks: results to stdout, messages to stderr."""

from __future__ import annotations

import os
import sys
import time
from typing import TextIO

import click

_SECONDS_BETWEEN_LINES = 2.0
_BAR_WIDTH = 24
_BARS = "▁▂▃▄▅▆▇█"
_PLAIN_BARS = str.maketrans(_BARS, "_.-:=+*#")


class Console:
    """What the user asked to hear: ``quiet`` is the result and errors only, ``verbose`` all."""

    # No dataclass here: importing that module would cost every --help a few milliseconds.
    def __init__(self, *, quiet: bool = False, verbose: bool = False) -> None:
        self.quiet = quiet
        self.verbose = verbose

    def result(self, line: str) -> None:
        """Print one line of the result."""
        write(sys.stdout, line)

    def message(self, line: str) -> None:
        """Print a message unless quiet."""
        if not self.quiet:
            write(sys.stderr, line)

    def detail(self, line: str) -> None:
        """Print a message only when verbose."""
        if self.verbose:
            write(sys.stderr, line)

    def error(self, line: str) -> None:
        """Print an error in one line, always."""
        label = click.style("imucarry:", fg="red", bold=True) if colour(sys.stderr) else "imucarry:"
        write(sys.stderr, f"{label} {' '.join(line.split())}")


def colour(stream: TextIO) -> bool:
    """Return whether colour is wanted: a terminal, and NO_COLOR not set."""
    return stream.isatty() and not os.environ.get("NO_COLOR")


def write(stream: TextIO, line: str) -> None:
    """Write a line; what the console cannot show is replaced, bars by plain marks."""
    encoding = stream.encoding or "utf-8"
    if not line.isascii() and not _shows_bars(encoding):
        line = line.translate(_PLAIN_BARS)
    stream.write(line.encode(encoding, "replace").decode(encoding) + "\n")
    stream.flush()


def _shows_bars(encoding: str) -> bool:
    return _BARS.encode(encoding, "ignore").decode(encoding) == _BARS


class ProgressLine:
    """Progress on stderr: one bar that is redrawn on a terminal, sparse plain lines off it."""

    def __init__(self, console: Console, unit: str) -> None:
        self.console = console
        self.unit = unit
        self.started = self.last = time.monotonic()
        self.n_kept = 0  # found finished: they cost next to nothing
        self.drawn = False

    def __call__(self, stage: str, done: int, total: int, failed: int = 0) -> None:
        """Show that `done` of `total` items are finished; "kept" ones were so from the start."""
        now = time.monotonic()
        if stage == "kept":
            self.n_kept += 1
            if self.n_kept == done:  # nothing was worked on so far
                self.started = now
        if self.console.quiet or total == 0:
            return
        if sys.stderr.isatty():
            self._draw(done, total, failed, now)
        elif now - self.last >= _SECONDS_BETWEEN_LINES:
            self.last = now
            write(sys.stderr, self._text(done, total, failed, now))

    def _text(self, done: int, total: int, failed: int, now: float) -> str:
        failures = f", {failed} failed" if failed else ""
        said = f"{done} of {total} {self.unit}{failures}"
        n_worked = done - self.n_kept
        if n_worked == 0:
            return said
        left = (now - self.started) / n_worked * (total - done)
        return f"{said}, about {left:.0f} s left"

    def _draw(self, done: int, total: int, failed: int, now: float) -> None:
        full = round(_BAR_WIDTH * done / total)
        bar = "#" * full + "-" * (_BAR_WIDTH - full)
        sys.stderr.write(f"\r[{bar}] {self._text(done, total, failed, now)}\x1b[K")
        sys.stderr.flush()
        self.drawn = True

    def end(self) -> None:
        """Clear the bar."""
        if self.drawn:
            sys.stderr.write("\r\x1b[K")
            sys.stderr.flush()
