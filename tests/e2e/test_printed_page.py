"""The page on paper: its first pages hold every finding, in a size that can be read."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from in_browser import BROWSER, Watched, needs_browser, opened_browser, write
from printed import assert_well_broken, pages_of, print_tab
from scores_builder import VISIT, build_scores, with_participant

from imucarry.basics.records import Notice, SessionScores
from imucarry.report.pdf import print_page

pytestmark = needs_browser
PAPER_PX = 695
"""Width between the margins of A4, at 96 px an inch."""
LEAST_PT = 8.0


@pytest.fixture(scope="module")
def scores() -> SessionScores:
    return build_scores()


@pytest.fixture(scope="module")
def browser() -> Iterator[Any]:
    with opened_browser() as opened:
        yield opened


def test_the_pdf_is_one_summary_page_and_all_the_rest(
    tmp_path: Path, scores: SessionScores
) -> None:
    write(tmp_path, scores)
    print_page(tmp_path / "report.html", tmp_path / "report.pdf", browser=BROWSER)
    first, *rest = pages_of(tmp_path / "report.pdf")
    assert len(rest) >= len(scores.bouts) / 2
    flat = " ".join(first.split())
    for bout in scores.bouts:
        assert bout.data.row.bout in flat
    assert "How much load keeps the trunk turning" in flat
    assert "Check before you rely on this" in flat
    assert "Pictures" in rest[0]
    assert "Pictures" not in first
    everything = " ".join(" ".join(rest).split())
    assert "Cautions" in everything
    assert "not a medical device" in everything
    assert "Trunk rotation (swung through)" in everything
    assert all(page.strip() for page in (first, *rest))
    assert "This is the short print" not in everything
    assert_named([first, *rest], "P07, visit 2, 2026-03-14")


def assert_named(pages: list[str], whose: str) -> None:
    """Each sheet says at its foot whose it is, and which of how many."""
    for number, page in enumerate(pages, 1):
        foot = " ".join(page.rstrip().splitlines()[-1].split())
        assert foot == f"{whose} {number} of {len(pages)}"


@pytest.mark.parametrize("script", [True, False])
def test_a_print_from_the_browser_is_short(
    browser: Any, tmp_path: Path, scores: SessionScores, script: bool
) -> None:
    with Watched(browser, write(tmp_path, scores), java_script_enabled=script) as page:
        page.tab.pdf(path=tmp_path / "short.pdf", prefer_css_page_size=True)
    pages = pages_of(tmp_path / "short.pdf")
    assert 3 <= len(pages) <= 6
    assert_named(pages, "P07, visit 2, 2026-03-14")
    flat = " ".join(" ".join(pages).split())
    for bout in scores.bouts:
        assert bout.data.row.bout in flat
    for part in ("How much load keeps", "Load ladder", "Shoulder tests before and after",
                 "Stop at once for", "Other reasons to ask a physician first"):  # fmt: skip
        assert part in flat
    for part in ("Settings and version", "What the measures mean", "The mean stride of",
                 "Seen from above", "How good the recordings are"):  # fmt: skip
        assert part not in flat
    assert "Print all" in pages[-1]
    assert "CSV files" in " ".join(pages[-1].split())


def test_the_foot_of_a_sheet_holds_any_name(browser: Any, tmp_path: Path) -> None:
    name = """Zoe"} *{display:none} @page{margin:0} </style> \\"""
    address = write(tmp_path, with_participant(build_scores(visit=VISIT[:1]), name))
    with Watched(browser, address) as page:
        pages = print_tab(page.tab, tmp_path / "report.pdf")
    assert_named(pages, f"{name}, visit 2, 2026-03-14")


NUMBERS_ON_TWO_LINES = """() => [...document.querySelectorAll(".f-name a")].flatMap(link => {
  const found = [];
  const walker = document.createTreeWalker(link, NodeFilter.SHOW_TEXT);
  while (walker.nextNode()) {
    for (const match of walker.currentNode.data.matchAll(/[A-Za-z]+|[0-9]+/g)) {
      const range = document.createRange();
      range.setStart(walker.currentNode, match.index);
      range.setEnd(walker.currentNode, match.index + match[0].length);
      if (new Set([...range.getClientRects()].map(r => Math.round(r.top))).size > 1) {
        found.push(match[0]);
      }
    }
  }
  return found;
})"""


def test_a_bout_name_is_not_broken_inside_its_load(browser: Any, tmp_path: Path) -> None:
    names = ("suitcase_R_16", "suitcase_left_108", "bottoms-up_right_26", "suitcase/R/overhead/12")
    visit = tuple(replace(VISIT[1], name=name) for name in names)
    address = write(tmp_path, build_scores(visit=visit))
    with Watched(browser, address, viewport={"width": PAPER_PX, "height": 1000}) as page:
        page.tab.emulate_media(media="print")
        assert page.tab.evaluate(NUMBERS_ON_TWO_LINES) == []


@pytest.mark.parametrize("everything", [False, True])
def test_the_demo_is_printed_without_stranded_headings(
    browser: Any, tmp_path: Path, results: Path, everything: bool
) -> None:
    with Watched(browser, (results / "report.html").as_uri()) as page:
        pages = print_tab(page.tab, tmp_path / "report.pdf", everything=everything)
        assert_well_broken(page.tab, pages)
    summary = " ".join("".join(pages).partition("Pictures")[0].split())
    assert "not a medical device" in summary
    assert "imucarry" in summary
    assert "data/protocol.md" in summary


def test_the_heading_of_the_pictures_is_printed_with_them_wherever_the_summary_ends(
    browser: Any, tmp_path: Path, scores: SessionScores
) -> None:
    with Watched(browser, write(tmp_path, scores)) as page:
        for room_mm in range(200, 264, 4):
            page.tab.evaluate(
                f"document.querySelector('.summary').style.paddingBottom = '{room_mm}mm'"
            )
            assert_well_broken(page.tab, print_tab(page.tab, tmp_path / "report.pdf"))


@pytest.mark.parametrize("chest", [False, True])
def test_each_box_of_answers_is_printed_across_the_whole_sheet(
    browser: Any, tmp_path: Path, chest: bool
) -> None:
    scores = build_scores(chest=chest)
    short = replace(scores, ladder=scores.ladder[:1], retest=())
    with Watched(browser, write(tmp_path, short)) as page:
        page.tab.emulate_media(media="print")
        boxes = page.tab.locator(".first > *")
        widths = boxes.evaluate_all("all => all.map(box => box.getBoundingClientRect().width)")
        wide = page.tab.locator(".first").bounding_box()["width"]
    assert len(widths) == 2
    assert widths == pytest.approx([wide, wide], abs=2.0)


@pytest.mark.parametrize("everything", [False, True])
@pytest.mark.parametrize("n_ladders", [1, 7, 14])
def test_a_summary_with_many_ladders_is_one_page_or_runs_on_with_many_words(
    browser: Any, tmp_path: Path, scores: SessionScores, n_ladders: int, everything: bool
) -> None:
    rungs = tuple(replace(scores.ladder[0], implement=f"kettlebell {k}") for k in range(n_ladders))
    crowded = replace(build_scores(visit=(VISIT * 2)[:10]), ladder=rungs)
    with Watched(browser, write(tmp_path, crowded)) as page:
        pages = print_tab(page.tab, tmp_path / "report.pdf", everything=everything)
        assert_well_broken(page.tab, pages)
    assert sum("Pictures" in page for page in pages) == 1


@pytest.mark.parametrize("n_bouts", [1, 6, 12, 24])
def test_no_finding_is_left_out_of_the_printed_summary(
    browser: Any, tmp_path: Path, n_bouts: int
) -> None:
    scores = build_scores(visit=(VISIT * 3)[:n_bouts])
    with Watched(browser, write(tmp_path, scores)) as page:
        # How heavy a load is for the person stands in the table of loads when printed in full.
        page.tab.add_style_tag(content=".f-dose{display:none}")
        on_screen = page.tab.locator("#findings").inner_text()
        page.tab.emulate_media(media="print")
        on_paper = page.tab.locator("#findings").inner_text()
        pages = print_tab(page.tab, tmp_path / "report.pdf")
        assert_well_broken(page.tab, pages)
    # On paper the version and the protocol are named below, and nothing less is said.
    assert on_paper.startswith(on_screen)
    assert len(re.findall(r"\d+ of \d+ strides count", on_paper)) == n_bouts
    summary = "".join(pages).partition("Pictures")[0]
    assert summary.count("The trunk swung through") == n_bouts


def test_every_check_is_on_the_printed_summary(browser: Any, tmp_path: Path) -> None:
    scores = build_scores()
    checks = tuple(Notice("clock_assumed", f"check {k}", severity="check") for k in range(9))
    with Watched(browser, write(tmp_path, replace(scores, notices=checks))) as page:
        items = page.tab.locator("#findings .checks")
        assert "Check 8." not in items.inner_text()
        assert "more among the notes" in items.inner_text()
        page.tab.emulate_media(media="print")
        assert [f"Check {k}." in items.inner_text() for k in range(9)] == [True] * 9
        assert "more among the notes" not in items.inner_text()


SMALLEST_PT = """() => {
  const walker = document.createTreeWalker(
      document.querySelector("#findings"), NodeFilter.SHOW_TEXT);
  let least = Infinity;
  while (walker.nextNode()) {
    const holder = walker.currentNode.parentElement;
    if (!walker.currentNode.data.trim() || !holder.checkVisibility()) continue;
    const picture = holder.closest("svg");
    const scale = picture ? picture.getScreenCTM().a : 1;
    least = Math.min(least, scale * parseFloat(getComputedStyle(holder).fontSize) * 0.75);
  }
  return least;
}"""


@pytest.mark.parametrize("n_bouts", [1, 24])
def test_the_printed_summary_is_large_enough_to_read(
    browser: Any, tmp_path: Path, n_bouts: int
) -> None:
    """A page wider than its paper is printed smaller, so that nothing may be wider."""
    scores = build_scores(visit=(VISIT * 3)[:n_bouts])
    rungs = tuple(replace(scores.ladder[0], implement=f"kettlebell {k}") for k in range(n_bouts))
    address = write(tmp_path, replace(scores, ladder=rungs))
    with Watched(browser, address, viewport={"width": PAPER_PX, "height": 1000}) as page:
        page.tab.emulate_media(media="print")
        assert page.tab.evaluate("document.documentElement.scrollWidth") <= PAPER_PX
        assert page.tab.evaluate(SMALLEST_PT) >= LEAST_PT


def test_ten_bouts_without_a_chest_sensor_stand_on_one_page_and_their_picture_on_the_next(
    browser: Any, tmp_path: Path
) -> None:
    visit = tuple(replace(item, aim=item.aim or "mobility") for item in (VISIT * 2)[:10])
    bare = build_scores(chest=False, visit=visit)
    with Watched(browser, write(tmp_path, bare)) as page:
        pages = print_tab(page.tab, tmp_path / "report.pdf", everything=True)
    first, second, third, *_ = pages
    assert "data/protocol.md" in " ".join(first.split())
    assert "Pictures" in second
    assert "their mean." in " ".join(second.split())  # the caption's end
    assert "The mean stride of" in third


def test_checks_beside_a_ladder_table_use_the_whole_width_where_little_else_is_said(
    browser: Any, tmp_path: Path, scores: SessionScores
) -> None:
    rungs = tuple(replace(scores.ladder[0], implement=f"kettlebell {k}") for k in range(4))
    with Watched(browser, write(tmp_path, replace(scores, ladder=rungs))) as page:
        page.tab.emulate_media(media="print")
        wide, checks = (page.tab.locator(name).bounding_box() for name in (".first", ".checks"))
    assert checks["width"] == pytest.approx(wide["width"], abs=2.0)


def test_the_first_two_bouts_share_a_page_and_the_plan_sketches_its_width(
    browser: Any, tmp_path: Path
) -> None:
    scores = build_scores(visit=(VISIT * 4)[:27])
    address = write(tmp_path, scores)
    with Watched(browser, address, viewport={"width": PAPER_PX, "height": 1000}) as page:
        pages = print_tab(page.tab, tmp_path / "report.pdf", everything=True)
        page.tab.evaluate("document.documentElement.classList.add('all')")
        page.tab.emulate_media(media="print")
        sketches = page.tab.locator(".sketches").bounding_box()
        assert sketches["width"] == pytest.approx(PAPER_PX, abs=2.0)
        assert_well_broken(page.tab, pages)
    plan = [page for page in pages if "Seen from above" in page]
    assert len(plan) == 1
    assert plan[0].count("deg") >= 27
    first = next(page for page in pages if "The mean stride of free 1" in page)
    assert "The mean stride of suitcase 8" in first
