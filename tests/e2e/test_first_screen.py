"""What stands where on the first screen, on a phone, a tablet, a wide screen and on paper."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from in_browser import Watched, needs_browser, opened_browser, write
from scores_builder import build_scores

from imucarry.basics.records import Comparison, SessionScores
from imucarry.basics.settings import CarrySettings
from imucarry.carry.bout_checks import bout_checks

pytestmark = needs_browser
FONT_PX = "e => parseFloat(getComputedStyle(e).fontSize)"


@pytest.fixture(scope="module")
def browser() -> Iterator[Any]:
    with opened_browser() as opened:
        yield opened


def hurt(scores: SessionScores, index: int, reason: str, pain: float) -> SessionScores:
    """A visit of which one bout was stopped, as its sheet and its checks say."""
    bout = scores.bouts[index]
    row = replace(bout.data.row, stop_reason=reason, pain_0_10=pain)
    found = bout_checks(row, Comparison((), (), "unclear"), CarrySettings())
    told = replace(bout, data=replace(bout.data, row=row), notices=(*bout.notices, *found))
    return replace(scores, bouts=(*scores.bouts[:index], told, *scores.bouts[index + 1 :]))


@pytest.mark.parametrize("width", [390, 768, 1280])
def test_pain_and_stops_stand_above_every_finding_in_no_smaller_type(
    browser: Any, tmp_path: Path, width: int
) -> None:
    scores = hurt(build_scores(), 1, "chest tightness", 4.0)
    with Watched(
        browser, write(tmp_path, scores), viewport={"width": width, "height": 844}
    ) as page:
        alarm = page.tab.get_by_text("Stopped: chest tightness (pain 4 of 10), with")
        assert alarm.count() == 1
        lowest = alarm.bounding_box()["y"] + alarm.bounding_box()["height"]
        answers = page.tab.locator(".answer")
        assert answers.count() == 2
        assert lowest < min(answers.nth(k).bounding_box()["y"] for k in range(2))
        assert lowest < page.tab.locator(".checks").bounding_box()["y"]
        assert lowest < 844, "on the first screen"
        said = page.tab.locator(".answer p").evaluate_all(f"all => all.map({FONT_PX})")
        assert alarm.evaluate(FONT_PX) >= max(said)
        assert page.tab.evaluate("document.documentElement.scrollWidth") <= width


def test_without_pain_or_stops_there_is_no_box_of_them(browser: Any, tmp_path: Path) -> None:
    with Watched(browser, write(tmp_path, build_scores())) as page:
        assert page.tab.locator(".alarms").count() == 0
        assert "Look at this before you believe it" in page.tab.locator(".checks").inner_text()
