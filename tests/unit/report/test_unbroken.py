"""No line ends between a number and its unit: on the page, and in the terminal."""

from __future__ import annotations

import re

import pytest

from imucarry.basics.records import SessionScores
from imucarry.report.wording import terminal_lines
from imucarry.report.wording.numbers import unbroken

UNIT = r"(?:%|kg|deg|m/s)(?![\w/])"


@pytest.mark.parametrize("words", ["107 %", "10 kg", "1.21 m strides", "5.3 deg,", "1.2 m/s."])
def test_a_number_stays_with_its_unit(words: str) -> None:
    assert unbroken(words) == words.replace(" ", "\u00a0", 1)


@pytest.mark.parametrize("words", ["bouts 3 and 4", "6 of 10", "2 more", "bout 3 made 4 strides"])
def test_other_numbers_are_left_alone(words: str) -> None:
    assert unbroken(words) == words


def test_on_the_page_every_number_stays_with_its_unit(page: str) -> None:
    shown = page[page.index("<main>") : page.index('id="figure-data"')]
    text = re.sub(r"<svg.*?</svg>|<[^>]*>", "", shown, flags=re.DOTALL)
    assert re.findall(rf"[0-9]\u00a0{UNIT}", text)
    assert not re.findall(rf"[0-9] {UNIT}", text)


def test_in_the_terminal_no_line_begins_with_a_unit(scores: SessionScores) -> None:
    lines = terminal_lines(scores)
    assert any(re.search(rf"[0-9] {UNIT}", line) for line in lines)
    assert all(line.isascii() for line in lines)
    assert not [line for line in lines if re.match(rf"\s+{UNIT}", line)]
