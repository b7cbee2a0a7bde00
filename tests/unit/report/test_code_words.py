"""Names of files and settings in a sentence of the page are set as code."""

from __future__ import annotations

from imucarry.report.definitions import BY_ID
from imucarry.report.page import coded
from imucarry.report.wording.numbers import unit_name


def test_what_stands_between_backticks_is_code() -> None:
    assert coded("state `out` and 5 kg") == "state <code>out</code> and 5\N{NO-BREAK SPACE}kg"


def test_everything_else_stays_text() -> None:
    assert coded("a < b & `<b>`") == "a &lt; b &amp; <code>&lt;b&gt;</code>"
    assert coded("one ` alone") == "one ` alone"


def test_no_measure_shows_a_raw_unit_code() -> None:
    shown = {meaning.unit: unit_name(meaning.unit) for meaning in BY_ID.values()}
    assert "{strides}" in shown
    assert not [name for name in shown.values() if set(name) & set("{}")]
