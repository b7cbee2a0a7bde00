"""How the command line speaks: results to stdout, messages to stderr."""

from __future__ import annotations

import contextlib
import os
import re
import sys
import time
from typing import TextIO

import click

_SECONDS_BETWEEN_LINES = 2.0
_BAR_WIDTH = 24
_BARS = "▁▂▃▄▅▆▇█"
_PLAIN_BARS = str.maketrans(_BARS, "_.-:=+*#")
# What steers a terminal instead of being shown: control characters but for line ends and
# tabs, separators of lines, marks that turn the direction of writing, halves of characters.
_STEERING = re.compile(
    "[\x00-\x08\x0b-\x1f\x7f-\x9f\u061c\u200e\u200f\u2028-\u202e\u2060-\u206f"
    "\ufeff\ufff9-\ufffb\ud800-\udfff\U000e0000-\U000e007f]"
)


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
        write(sys.stderr, " ".join(line.split()), label=f"{label} ")


def colour(stream: TextIO) -> bool:
    """Return whether colour is wanted: a terminal, and NO_COLOR not set."""
    return stream.isatty() and not os.environ.get("NO_COLOR")


def harmless(text: str) -> str:
    r"""Return a text in which what would steer a terminal stands as ``\uXXXX``.

    Names in files may hold such marks. In JSON, where they stand within quotes, the text
    means the same as before.
    """
    return _STEERING.sub(lambda mark: _escaped(mark[0]), text)


def _escaped(mark: str) -> str:
    units = mark.encode("utf-16-be", "surrogatepass").hex()
    return "".join(f"\\u{units[k : k + 4]}" for k in range(0, len(units), 4))


def write(stream: TextIO, line: str, label: str = "") -> None:
    """Write a line; what the console cannot show is replaced, bars by plain marks.

    A `label` of the program's own is written before it as it is, with its colours.
    """
    encoding = stream.encoding or "utf-8"
    if not line.isascii() and not _shows_bars(encoding):
        line = line.translate(_PLAIN_BARS)
    _put(stream, label + harmless(line).encode(encoding, "replace").decode(encoding) + "\n")


def _put(stream: TextIO, text: str) -> None:
    """Write and flush; a stderr that takes nothing more costs nobody the results."""
    try:
        stream.write(text)
        stream.flush()
    except OSError:
        if stream is not sys.stderr:
            raise
        _silence(stream)


def fill_closed_streams() -> None:
    """Open the null device for what is closed; else files opened later would take its place."""
    for name, mode in (("stdin", "r"), ("stdout", "w"), ("stderr", "w")):
        if getattr(sys, name) is None:
            # Open as long as the process is, so in no `with` block.
            setattr(sys, name, open(os.devnull, mode, encoding="utf-8"))  # noqa: SIM115


def arose_in_printing(error: OSError) -> bool:
    """Return whether an error is of stdout, which takes nothing more; it is then silenced."""
    trace = error.__traceback__
    while trace is not None and trace.tb_next is not None:
        trace = trace.tb_next
    printer = trace.tb_frame.f_globals.get("__name__", "") if trace is not None else ""
    if printer not in (__name__, "click.utils", "click._winconsole"):
        return False
    _silence(sys.stdout)
    return True


def _silence(stream: TextIO) -> None:
    """Lead a stream to the null device, so that what waits in it is no error at the end."""
    with contextlib.suppress(OSError, ValueError):  # no stream of the system's
        null = os.open(os.devnull, os.O_WRONLY)
        os.dup2(null, stream.fileno())
        os.close(null)


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
        _put(sys.stderr, f"\r[{bar}] {self._text(done, total, failed, now)}\x1b[K")
        self.drawn = True

    def end(self) -> None:
        """Clear the bar."""
        if self.drawn:
            _put(sys.stderr, "\r\x1b[K")
