"""The sheets of an invented session hold the columns of the template and no others."""

from __future__ import annotations

import csv
from pathlib import Path

from imucarry.simulate.demo import write_demo

TEMPLATES = Path(__file__).resolve().parents[3] / "data" / "templates"


def test_the_shoulder_tests_have_the_columns_of_the_template(tmp_path: Path) -> None:
    write_demo(tmp_path / "visit")
    with (tmp_path / "visit" / "rom.csv").open(encoding="utf-8", newline="") as file:
        written = next(csv.reader(file))
    with (TEMPLATES / "rom.csv").open(encoding="utf-8", newline="") as file:
        template = next(row for row in csv.reader(file) if not row[0].startswith("#"))
    assert set(written) <= set(template)
