"""The evidence table of shoulder tests against what the studies printed; see SOURCE.md."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest

from imucarry.basics.evidence.shoulder_rom import SHOULDER_ROM_ERRORS
from imucarry.basics.reliability import minimal_detectable_change

PUBLISHED = Path(__file__).parent / "published.csv"
ROWS = list(csv.DictReader(PUBLISHED.read_text(encoding="utf-8").splitlines()))


def mdc95_deg(printed: str, value: float) -> float:
    """The change beyond error at 95 % from what a study printed."""
    if printed == "MDC90":
        return value * minimal_detectable_change(1.0) / minimal_detectable_change(1.0, level=0.9)
    return minimal_detectable_change(value) if printed == "SEM" else value


@pytest.mark.parametrize("row", ROWS, ids=lambda row: f"{row['study']} {row['motion']}")
def test_rows_follow_from_what_was_printed(row: dict[str, str]) -> None:
    found = [
        item
        for item in SHOULDER_ROM_ERRORS.value
        if row["study"].split()[0] in item.source
        and row["study"][-4:] in item.source
        and row["motion"] in item.motions
        and "conclusion" not in item.basis
        and (item.active_passive, item.rater, item.population, item.device)
        == (row["active_passive"], row["rater"], row["population"], row["device"])
    ]
    assert len(found) == 1
    # Retyped to one decimal.
    low = mdc95_deg(row["printed"], float(row["printed_low"]))
    high = mdc95_deg(row["printed"], float(row["printed_high"]))
    assert found[0].mdc95_low_deg == pytest.approx(low, abs=0.06)
    assert found[0].mdc95_high_deg == pytest.approx(high, abs=0.06)


def test_only_complete_and_plausible_rows_can_be_selected() -> None:
    for item in SHOULDER_ROM_ERRORS.value:
        complete = all((item.active_passive, item.rater, item.population, item.device))
        assert bool(item.not_selectable) == (not complete or "Dougherty" in item.source)
