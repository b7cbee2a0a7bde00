"""The cohort's page in a real browser: failures first, links, hostile names, no request."""

from __future__ import annotations

import csv
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from command_line import imucarry
from printed import assert_well_broken, pages_of
from short_study import ShortSessions, write_study

from imucarry.report.pdf import QUIET, find_browser

playwright = pytest.importorskip(
    "playwright.sync_api", reason="Playwright is not installed: pip install 'imucarry[test]'"
)
BROWSER = find_browser()
pytestmark = pytest.mark.skipif(
    BROWSER is None, reason="no Chromium or Chrome on this machine to open the page in"
)
FLAGS = ["--no-sandbox", *QUIET]
HOSTILE = "<img src=x onerror=alert(1)>"
N_PEOPLE = 9  # enough bouts of one condition for one to stand apart
ODD = "P-odd"


@pytest.fixture(scope="module")
def page_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The page of a study with a hostile participant, manifest and folder, and an odd bout."""
    home = tmp_path_factory.mktemp("study")
    manifest = write_study(home, N_PEOPLE)
    sessions = ShortSessions()
    sessions.write(home / "hostile", HOSTILE, "1")
    sessions.write(home / "odd", ODD, "1", gain=1.8)
    (home / HOSTILE).mkdir()  # a session that fails
    with manifest.open("a", encoding="utf-8", newline="") as stream:
        rows = [[folder, HOSTILE, HOSTILE] for folder in ("hostile", "odd", HOSTILE)]
        csv.writer(stream).writerows(rows)
    done = imucarry("cohort", manifest, "--out", home / "out")
    assert done.returncode == 1, done.stderr
    return home / "out" / "cohort.html"


@pytest.fixture(scope="module")
def tab(page_file: Path) -> Iterator[Any]:
    """The page in a tab that remembers what it asks for and says."""
    with playwright.sync_playwright() as running:
        browser = running.chromium.launch(executable_path=BROWSER, args=FLAGS)
        opened = browser.new_page()
        opened.asked, opened.said = [], []
        opened.on("request", lambda request: opened.asked.append(request.url))
        opened.on("console", lambda message: opened.said.append(message.text))
        opened.on("pageerror", lambda error: opened.said.append(str(error)))
        opened.on("dialog", lambda dialog: opened.said.append(dialog.message))
        opened.goto(page_file.as_uri())
        opened.evaluate("document.querySelectorAll('details').forEach(d => d.open = true)")
        yield opened
        browser.close()


def test_nothing_is_asked_for_and_nothing_goes_wrong(tab: Any, page_file: Path) -> None:
    assert tab.asked == [page_file.as_uri()]
    assert tab.said == []


def test_failures_come_first(tab: Any) -> None:
    sections = tab.locator("main > section").evaluate_all("all => all.map(s => s.id)")
    assert sections[:3] == ["failures", "checks", "found"]
    assert tab.locator("#failures tbody tr").count() == 1


def test_the_sessions_to_look_at_lead_to_their_pages(tab: Any, page_file: Path) -> None:
    with (page_file.parent / "cohort_checks.csv").open(encoding="utf-8", newline="") as stream:
        rows = [row for row in csv.DictReader(stream) if row["severity"] == "check"]
    with_checks = {f"{row['participant']}, {row['session']}" for row in rows}
    named = set(tab.locator("#checks .looked > li > a").all_inner_texts())
    assert named
    assert named <= with_checks
    assert len(named) == min(10, len(with_checks))


def test_hostile_text_stays_text(tab: Any) -> None:
    assert tab.locator("img").count() == 0
    assert HOSTILE in tab.locator("#failures tbody th").inner_text()
    assert tab.locator("#sessions li", has_text=HOSTILE).count() == 1


def test_every_link_leads_to_a_page(tab: Any, page_file: Path) -> None:
    links = tab.locator("main a[href]").evaluate_all("all => all.map(a => a.getAttribute('href'))")
    pages = {link for link in links if not link.startswith("#")}
    assert len(pages) == N_PEOPLE + 2
    assert all((page_file.parent / page).is_file() for page in pages)


def test_the_bouts_that_stand_apart_most_come_first_with_their_page(tab: Any) -> None:
    rows = tab.locator("#outliers tbody tr")
    heads = rows.locator("th").all_inner_texts()
    assert heads[:2] == [f"{ODD}, 1"] * 2, "both bouts of the odd session, before all others"
    assert "odd" in rows.first.locator("a").get_attribute("href")


def test_every_bout_is_a_point(tab: Any) -> None:
    figure = tab.locator('figure[data-figure="m-sternum_yaw_range-none"] svg.plot')
    dots = figure.locator("path.d-one_of_many")
    paths = dots.evaluate_all("all => all.map(path => path.getAttribute('d'))")
    assert sum(path.count("M") for path in paths) == 2 * (N_PEOPLE + 2)
    assert figure.locator("path.d-before").count() == 2, "the median of each condition"


def test_no_barrier_for_assistive_technology(tab: Any) -> None:
    axe = pytest.importorskip("axe_playwright_python.sync_playwright")
    found = axe.Axe().run(tab)
    assert found.violations_count == 0, found.generate_report()


def test_links_of_a_list_are_large_enough_to_touch(tab: Any) -> None:
    """WCAG 2.2, success criterion 2.5.8: 24 px."""
    links = tab.locator("#sessions li a")
    heights = links.evaluate_all("all => all.map(a => a.getBoundingClientRect().height)")
    assert len(heights) == N_PEOPLE + 2
    assert min(heights) >= 24.0


def test_pain_and_stops_are_in_sight_on_a_phone(tab: Any) -> None:
    tab.set_viewport_size({"width": 390, "height": 740})
    ends = tab.locator("#found thead th", has_text="pain or stop").bounding_box()
    tab.set_viewport_size({"width": 1200, "height": 900})
    assert ends["x"] + ends["width"] <= 390


def test_it_fits_a_phone(tab: Any) -> None:
    tab.set_viewport_size({"width": 360, "height": 740})
    wide = tab.evaluate("document.documentElement.scrollWidth")
    tab.set_viewport_size({"width": 1200, "height": 900})
    assert wide <= 360


def test_paper_shows_every_distribution(tab: Any, page_file: Path, tmp_path: Path) -> None:
    paper = tab.context.browser.new_page()
    paper.goto(page_file.as_uri())
    titles = paper.locator("#measures figure h3").all_text_contents()
    assert len(titles) > 20
    assert not paper.locator("#measures svg.plot").first.is_visible(), "folded on the screen"
    paper.emulate_media(media="print")
    assert paper.locator("#measures svg.plot:visible").count() == len(titles)
    paper.pdf(path=tmp_path / "cohort.pdf", prefer_css_page_size=True)
    pages = pages_of(tmp_path / "cohort.pdf")
    assert_well_broken(paper, pages)
    paper.close()
    printed = " ".join(" ".join(pages).split())
    assert all(title in printed for title in titles)


def test_on_paper_the_cautions_stand_together(tab: Any, page_file: Path, tmp_path: Path) -> None:
    paper = tab.context.browser.new_page()
    paper.goto(page_file.as_uri())
    titles = paper.locator("#cautions :is(h2, h3)").all_text_contents()
    heads = [" ".join(title.split()[:2]) for title in titles]  # a long one breaks
    # Most of a page stands before them.
    paper.evaluate("""() => {
        document.querySelectorAll("main > section:not(#cautions)").forEach(s => s.remove());
        document.querySelector("header").style.height = "190mm";
    }""")
    paper.pdf(path=tmp_path / "cautions.pdf", prefer_css_page_size=True)
    paper.close()
    first, second = pages_of(tmp_path / "cautions.pdf")
    assert not [head for head in heads if head in first]
    assert all(head in second for head in heads)
