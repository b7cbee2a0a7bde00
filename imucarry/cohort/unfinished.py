"""A study whose run has not come to its end: what tells it from a finished one."""

from __future__ import annotations

import contextlib
import json
from collections.abc import Iterator
from typing import Any, Final

from imucarry import __version__
from imucarry.basics.errors import OutputError
from imucarry.outputs import RUN_FILE, UNCHANGED, OutputFolder, plain_errors, write_bytes
from imucarry.provenance import PROGRAM, json_text

PAGE: Final = "cohort.html"
KEPT: Final = "sessions that are finished are kept; free some space and run the same command again"
EARLIER: Final = f"{PAGE} and the tables are still those of the earlier run"
_BELOW: Final = "<main>\n"
"""What the mark of an earlier page stands below."""


def mark_unfinished(folder: OutputFolder, command: str) -> None:
    """Mark a folder as ours and its run as not finished, until the joined results replace all that.

    An earlier run's page says so at its top, because sessions that it links to may change;
    ``run.json`` holds ``unfinished``.
    """
    from imucarry.report.wording.words_cohort import UNFINISHED

    target = folder.path
    page = target / PAGE
    if PAGE in folder.owned and page.is_file():
        told = f'<section class="sheet"><p><b>{UNFINISHED}</b></p></section>\n'
        text = page.read_text(encoding="utf-8", errors="surrogateescape")
        if told not in text:
            marked = text.replace(_BELOW, _BELOW + told, 1)
            write_bytes(page, marked.encode("utf-8", errors="surrogateescape"))
    record: dict[str, Any] = {
        "program": PROGRAM, "command": command, "version": __version__, "files": [],
    }  # fmt: skip
    if folder.owned:
        record = json.loads((target / RUN_FILE).read_text(encoding="utf-8"))
    write_bytes(target / RUN_FILE, json_text({**record, "unfinished": True}).encode())


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
