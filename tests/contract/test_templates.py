"""What stands by hand beside the code: words of units and holds, blank sheets, stated limits."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from imucarry.basics.evidence import carry as evidence
from imucarry.basics.records import AIMS, HOLDS, LOADED_SIDES
from imucarry.basics.units import ACC_UNITS_MPS2, GYR_UNITS_RADPS, TIME_UNITS_S
from imucarry.readers.lexicon import SPELLINGS

ROOT = Path(__file__).parents[2]
SESSION = (ROOT / "data/templates/session.toml").read_text(encoding="utf-8")
BOUTS = (ROOT / "data/templates/bouts.csv").read_text(encoding="utf-8")
README = (ROOT / "README.md").read_text(encoding="utf-8")

QUANTITIES = {"acc": ACC_UNITS_MPS2, "gyr": GYR_UNITS_RADPS}


def remark(text: str, beginning: str) -> set[str]:
    """Return the words of the list that a template's remark gives after `beginning`."""
    (line,) = (line for line in text.splitlines() if line.startswith(f"# {beginning}"))
    listed = re.split(r"[#:]", line[len(beginning) + 2 :])[-1]
    return {word.strip(" .") for word in listed.split(",")}


@pytest.mark.parametrize("quantity", QUANTITIES)
def test_headers_have_words_for_every_unit(quantity: str) -> None:
    known = set(SPELLINGS[quantity].values())
    assert known == set(QUANTITIES[quantity]), "give the unit its words in readers/lexicon.py"


@pytest.mark.parametrize("quantity", QUANTITIES)
def test_the_blank_session_lists_every_unit(quantity: str) -> None:
    assert remark(SESSION, f"{quantity}_unit =") == set(QUANTITIES[quantity])


def test_the_blank_session_lists_units_of_time_that_are_known() -> None:
    listed = remark(SESSION, "time_unit =")
    assert listed
    assert listed <= set(TIME_UNITS_S)


@pytest.mark.parametrize(
    ("beginning", "codes"),
    [("hold:", HOLDS), ("loaded_side:", LOADED_SIDES), ("aim:", AIMS)],
)
def test_the_blank_sheet_lists_every_word(beginning: str, codes: tuple[str, ...]) -> None:
    (line,) = (line for line in BOUTS.splitlines() if f"{beginning} " in line)
    listed = line.split(f"{beginning} ")[1].split(".")[0]
    assert {word.strip() for word in listed.split(",")} - {"or empty"} == set(codes)


def test_the_readme_states_the_limits_that_hold() -> None:
    reduced, minimal = evidence.REDUCED_PCT.value, evidence.MINIMAL_PCT.value
    assert f"{reduced:.0f} % and {minimal:.0f} % of the free walk" in README
