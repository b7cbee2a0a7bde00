"""A study whose run has not come to its end: what tells it from a finished one."""

from __future__ import annotations

import contextlib
from collections.abc import Iterator
from typing import Final

from imucarry.basics.errors import OutputError
from imucarry.outputs import UNCHANGED, OutputFolder, plain_errors

PAGE: Final = "cohort.html"
KEPT: Final = "sessions that are finished are kept; free some space and run the same command again"
EARLIER: Final = f"{PAGE} and the tables are still those of the earlier run"


@contextlib.contextmanager
def begun(folder: OutputFolder) -> Iterator[None]:
    """Let a full disk, once sessions are scored, claim no longer that nothing was changed."""
    try:
        with plain_errors(folder.path):
            yield
    except OutputError as error:
        if not error.message.endswith(UNCHANGED):
            raise
        what = error.message.removesuffix(UNCHANGED)
        said = [what, *([EARLIER] if PAGE in folder.owned else []), KEPT]
        raise OutputError("; ".join(said), file=str(folder.path)) from error
