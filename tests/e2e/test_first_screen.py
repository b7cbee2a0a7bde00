"""What stands where on the first screen, on a phone, a tablet, a wide screen and on paper."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from in_browser import Watched, needs_browser, opened_browser, write
from scores_builder import build_scores

from imucarry.basics.records import Comparison, Notice, SessionScores
from imucarry.basics.settings import CarrySettings, Settings
from imucarry.carry.bout_checks import bout_checks
from imucarry.carry.earlier import History, compare_visits
from imucarry.carry.visits import Visit
from imucarry.report.page import render

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
        alarm = page.tab.locator(".alarms li b").get_by_text("Stopped: chest tightness")
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
        assert "Check before you rely on this" in page.tab.locator(".checks").inner_text()


def followed_over_weeks() -> History:
    """Two visits with pain at many loads: many rows in the box of earlier visits."""
    row: dict[str, str | float] = {"hold": "suitcase", "loaded_side": "right", "implement": ""}
    bouts = [
        tuple({**row, "load_kg": load, "pain_0_10": pain + visit} for load, pain in PAINS)
        for visit in (0, 1)
    ]
    visits = (Visit("1", bouts[0]), Visit("2", bouts[1], current=True))
    return History(visits, compare_visits(visits))


PAINS = ((8.0, 1.0), (12.0, 2.0), (16.0, 3.0), (24.0, 4.0))
BLANK_PX = """boxes => boxes.map(box => box.getBoundingClientRect().bottom
    - Math.max(...[...box.querySelectorAll("p, td")].map(p => p.getBoundingClientRect().bottom)))"""


@pytest.mark.parametrize("media", ["screen", "print"])
@pytest.mark.parametrize("over_weeks", [False, True])
def test_checks_stand_across_the_page_below_both_boxes(
    browser: Any, tmp_path: Path, media: str, over_weeks: bool
) -> None:
    said = "the wrist sensors look swapped: " + 3 * "what is said of one arm may be of the other, "
    checks = tuple(Notice("clock_assumed", f"{said}, {k}", severity="check") for k in range(5))
    scores = replace(build_scores(), notices=checks)
    earlier = followed_over_weeks() if over_weeks else None
    page_file = tmp_path / "report.html"
    page_file.write_text(render(scores, Settings(), earlier=earlier), encoding="utf-8")
    with Watched(browser, page_file.as_uri(), viewport={"width": 1280, "height": 900}) as page:
        page.tab.emulate_media(media=media)
        answers = page.tab.locator(".answer")
        boxes = [answers.nth(k).bounding_box() for k in range(2)]
        checks, first = (page.tab.locator(name).bounding_box() for name in (".checks", ".first"))
        assert checks["width"] == pytest.approx(first["width"], abs=2.0)
        assert checks["y"] > max(box["y"] + box["height"] for box in boxes)
        if over_weeks:
            assert page.tab.locator(".followed tbody tr").count() == len(PAINS)
            assert max(answers.evaluate_all(BLANK_PX)) < 60.0, "no box is mostly empty"


@pytest.mark.parametrize("n_tests", [0, 1])
@pytest.mark.parametrize(("n_letters", "is_below"), [(20, False), (2000, True)])
def test_few_checks_stand_beside_a_box_alone_else_below_the_boxes(
    browser: Any, tmp_path: Path, n_tests: int, n_letters: int, is_below: bool
) -> None:
    scores = build_scores()
    check = Notice("clock_assumed", "words " * (n_letters // 6), severity="check")
    bouts = tuple(replace(bout, data=replace(bout.data, notices=())) for bout in scores.bouts)
    told = replace(scores, bouts=bouts, notices=(check,), retest=scores.retest[:n_tests])
    with Watched(browser, write(tmp_path, told), viewport={"width": 1280, "height": 900}) as page:
        answers = page.tab.locator(".answer")
        assert answers.count() == 1 + n_tests
        is_below = is_below or n_tests > 0
        first, found = answers.nth(0).bounding_box(), page.tab.locator(".checks").bounding_box()
    assert (found["y"] >= first["y"] + first["height"]) is is_below
    assert (found["x"] >= first["x"] + first["width"]) is not is_below


def test_on_a_phone_no_column_of_four_visits_is_cut(browser: Any, tmp_path: Path) -> None:
    row: dict[str, str | float] = {"hold": "bottoms_up", "loaded_side": "right", "implement": ""}
    visits = tuple(
        Visit(str(k), ({**row, "load_kg": 8.0, "pain_0_10": 1.0 + k, "stop_reason": stop},),
              current=k == 4)
        for k, stop in enumerate(("", "pain", "", "pain"), 1)
    )  # fmt: skip
    page_file = tmp_path / "report.html"
    earlier = History(visits, compare_visits(visits))
    page_file.write_text(render(build_scores(), Settings(), earlier=earlier), encoding="utf-8")
    with Watched(browser, page_file.as_uri(), viewport={"width": 390, "height": 844}) as page:
        table = page.tab.locator(".followed .scroll")
        assert table.locator("thead th").count() == 6
        wide, seen = table.evaluate("table => [table.scrollWidth, table.clientWidth]")
    assert wide <= seen
