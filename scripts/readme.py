"""Carry tables that scripts made into README.md, between markers; nothing there is typed.

python scripts/readme.py      write the table of measures
"""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from pathlib import Path

from imucarry.measures.table import MEASURES

README = Path(__file__).resolve().parents[1] / "README.md"


def put(section: str, text: str, readme: Path = README) -> None:
    """Replace what stands between the two markers of a section.

    Parameters
    ----------
    section : str
        Name in ``<!-- name:start -->`` and ``<!-- name:end -->``.
    text : str
        Markdown.
    """
    start, end = f"<!-- {section}:start -->", f"<!-- {section}:end -->"
    before, rest = readme.read_text(encoding="utf-8").split(start)
    _, after = rest.split(end)
    readme.write_text(f"{before}{start}\n{text.strip()}\n{end}{after}", encoding="utf-8")


def table(heads: Sequence[str], rows: Sequence[Sequence[str]]) -> str:
    """Return a Markdown table."""
    lines = [[cell.replace("|", "\\|") for cell in line] for line in (heads, *rows)]
    lines.insert(1, ["---"] * len(heads))
    return "\n".join(f"| {' | '.join(line)} |" for line in lines)


def measures() -> str:
    """Return the section on measures, from the registry that computes them."""
    rows = [(f"`{m.id}`", m.unit, m.definition, m.source) for m in MEASURES]
    return "## What is measured\n\n" + table(("measure", "unit", "definition", "source"), rows)


if __name__ == "__main__":
    argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    ).parse_args()
    put("measures", measures())
