"""The page in a real browser: what a person sees, hears and clicks."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from in_browser import Watched, needs_browser, opened_browser, write
from scores_builder import VISIT, build_scores, with_participant

from imucarry.basics.records import SessionScores
from imucarry.report.wording import say
from imucarry.report.wording.numbers import unbroken

playwright = pytest.importorskip(
    "playwright.sync_api", reason="Playwright is not installed: pip install 'imucarry[test]'"
)
pytestmark = needs_browser
HOSTILE = "<img src=x onerror=alert(1)>"


@pytest.fixture(scope="module")
def scores() -> SessionScores:
    return build_scores()


@pytest.fixture(scope="module")
def address(scores: SessionScores, tmp_path_factory: pytest.TempPathFactory) -> str:
    return write(tmp_path_factory.mktemp("page"), scores)


@pytest.fixture(scope="module")
def browser() -> Iterator[Any]:
    with opened_browser() as opened:
        yield opened


def open_closer_look(tab: Any, key: str) -> Any:
    figure = tab.locator(f'figure[data-figure="{key}"]')
    figure.get_by_role("button").click()
    figure.locator(".stage .main-svg").first.wait_for()
    return figure


def test_no_error_and_no_request_beyond_the_file(browser: Any, address: str) -> None:
    with Watched(browser, address) as page:
        for key in ("rotation", "swing", "ladder-1", "curves-1", "strip-3", "retest"):
            open_closer_look(page.tab, key)
        assert page.said == []
        beyond = [url for url in page.asked if not url.startswith(("blob:", "data:"))]
        assert beyond == [address]


def test_a_closer_look_draws_the_strides_and_closes_again(browser: Any, address: str) -> None:
    with Watched(browser, address) as page:
        figure = open_closer_look(page.tab, "rotation")
        assert figure.locator(".stage .point").count() > 100
        assert not figure.locator("svg.plot").is_visible()
        assert figure.locator(".modebar-btn--logo").count() == 0
        titles = figure.locator(".modebar-btn").evaluate_all(
            "buttons => buttons.map(b => b.getAttribute('data-title') || b.ariaLabel || '')"
        )
        assert titles
        assert not [t for t in titles if re.search("cloud|studio|share|upload", t, re.IGNORECASE)]
        figure.get_by_role("button", name=re.compile("Back to the still picture")).click()
        assert figure.locator("svg.plot").is_visible()
        assert figure.locator(".stage").is_hidden()


def test_the_trace_of_a_bout_on_demand(browser: Any, address: str) -> None:
    with Watched(browser, address) as page:
        figure = page.tab.locator('figure[data-figure="trace-1"]')
        assert not figure.is_visible()
        page.tab.get_by_text("From the raw signal to the clean one: free 1").click()
        assert figure.locator("svg.plot").is_visible()
        open_closer_look(page.tab, "trace-1")
        assert page.said == []


@pytest.mark.parametrize(("scheme", "width"), [("light", 1280), ("dark", 360)])
def test_axe_finds_nothing(browser: Any, tmp_path: Path, scheme: str, width: int) -> None:
    axe = pytest.importorskip(
        "axe_playwright_python.sync_playwright", reason="axe-playwright-python is not installed"
    )
    options = {"color_scheme": scheme, "viewport": {"width": width, "height": 800}}
    # A free walk, a bout with left-out strides and one with too few: every kind of part.
    address = write(tmp_path, build_scores(visit=(VISIT[0], VISIT[2], VISIT[6])))
    with Watched(browser, address, **options) as page:
        page.tab.evaluate("document.querySelectorAll('details').forEach(d => { d.open = true })")
        found = axe.Axe().run(page.tab)
        assert found.violations_count == 0, found.generate_report()


def test_every_control_is_reached_and_worked_by_keyboard(browser: Any, address: str) -> None:
    with Watched(browser, address) as page:
        tab = page.tab
        tab.keyboard.press("Tab")
        assert tab.evaluate("document.activeElement.textContent") == "Skip to the findings"
        assert tab.evaluate("document.activeElement.getBoundingClientRect().left") >= 0
        reached = set()
        for _ in range(40):
            tab.keyboard.press("Tab")
            reached.add(tab.evaluate("document.activeElement.tagName"))
            assert tab.evaluate(
                "getComputedStyle(document.activeElement).outlineStyle"
            ) != "none"  # fmt: skip
        assert {"A", "BUTTON", "SUMMARY"} <= reached
        button = tab.locator('figure[data-figure="rotation"] button.closer')
        button.focus()
        tab.keyboard.press("Enter")
        tab.locator('figure[data-figure="rotation"] .stage .main-svg').first.wait_for()
        assert button.get_attribute("aria-expanded") == "true"
        tab.keyboard.press("Space")
        assert button.get_attribute("aria-expanded") == "false"
        summary = tab.locator('figure[data-figure="rotation"] details.numbers summary')
        summary.focus()
        tab.keyboard.press("Enter")
        assert tab.locator('figure[data-figure="rotation"] table').is_visible()


@pytest.mark.parametrize("width", [360, 320, 1280])
def test_no_sideways_scrolling(browser: Any, address: str, width: int) -> None:
    with Watched(browser, address, viewport={"width": width, "height": 740}) as page:
        page.tab.evaluate("document.querySelectorAll('details').forEach(d => { d.open = true })")
        open_closer_look(page.tab, "rotation")
        assert page.tab.evaluate("document.documentElement.scrollWidth") <= width


def test_long_words_do_not_widen_a_small_screen(browser: Any, tmp_path: Path) -> None:
    scores = with_participant(build_scores(text="W" * 120), "W" * 120)
    with Watched(
        browser, write(tmp_path, scores), viewport={"width": 360, "height": 740}
    ) as page:  # fmt: skip
        assert page.tab.evaluate("document.documentElement.scrollWidth") <= 360


def test_a_hostile_participant_is_text(browser: Any, tmp_path: Path) -> None:
    scores = with_participant(build_scores(text=HOSTILE), HOSTILE)
    with Watched(browser, write(tmp_path, scores)) as page:
        open_closer_look(page.tab, "rotation")
        page.tab.locator('figure[data-figure="rotation"] .stage').hover()
        assert page.tab.locator("img").count() == 0
        assert page.tab.locator("h1").inner_text().startswith(HOSTILE)
        assert page.said == []


def test_without_scripts_every_finding_and_score_is_shown(
    browser: Any, address: str, scores: SessionScores
) -> None:
    with Watched(browser, address, java_script_enabled=False) as page:
        text = page.tab.locator("body").inner_text()
        for bout in scores.bouts:
            assert unbroken(say.rotation(scores, bout)) in text
            for score in bout.scores:
                found = score.estimate
                assert (found.missing_because == "") or unbroken(
                    say.reason(found.missing_because)
                ) in text
        assert page.tab.locator("figure svg.plot:visible").count() >= 2 + 2 * len(scores.bouts)
        assert page.tab.locator("#tables table").first.is_visible()
        assert page.tab.get_by_text("only closer looks need them").is_visible()
        assert page.tab.locator("button").count() == 0


def test_dark_is_dark_and_follows_the_system(browser: Any, address: str) -> None:
    with Watched(browser, address, color_scheme="dark") as page:
        assert brightness(page.tab, "body", "background-color") < 60
        assert brightness(page.tab, "h1", "color") > 200
        figure = open_closer_look(page.tab, "rotation")
        ground = figure.locator(".main-svg").first
        assert shade(ground.evaluate("e => e.style.background")) < 60
        page.tab.emulate_media(color_scheme="light")
        light = re.compile(r"background: rgb\(255, 255, 255\)")
        playwright.expect(ground).to_have_attribute("style", light)


def brightness(tab: Any, selector: str, style: str) -> float:
    return shade(
        tab.locator(selector).first.evaluate(
            "(e, style) => getComputedStyle(e).getPropertyValue(style)", style
        )
    )


def shade(colour: str) -> float:
    return sum(float(part) for part in re.findall(r"[\d.]+", colour)[:3]) / 3.0


def test_print_hides_controls_and_shows_pictures(browser: Any, address: str) -> None:
    with Watched(browser, address, color_scheme="dark") as page:
        page.tab.evaluate("document.documentElement.classList.add('all')")
        page.tab.emulate_media(media="print", color_scheme="dark")
        assert page.tab.locator("nav").is_hidden()
        assert page.tab.locator("button:visible").count() == 0
        assert page.tab.locator("svg.plot:visible").count() > 10
        assert brightness(page.tab, "body", "background-color") == 255
        assert brightness(page.tab, "h1", "color") < 60


WATCH_PRINTS = """() => {
  window.printed = [];
  window.print = () => {
    window.printed.push(document.documentElement.classList.contains("all"));
    window.dispatchEvent(new Event("afterprint"));
  };
}"""


def test_one_button_prints_in_short_and_one_prints_all(browser: Any, address: str) -> None:
    with Watched(browser, address) as page:
        page.tab.evaluate(WATCH_PRINTS)
        for name in ("Print", "Print all", "Print"):
            page.tab.get_by_role("button", name=name, exact=True).click()
        assert page.tab.evaluate("window.printed") == [False, True, False]
        page.tab.emulate_media(media="print")
        assert page.tab.locator("#tables").is_hidden()
        page.tab.evaluate("document.documentElement.classList.add('all')")
        assert page.tab.locator("#tables").is_visible()
        assert page.tab.locator(".brief").is_hidden()


REGIONS = """() => [...document.querySelectorAll(".scroll")].filter(e => e.checkVisibility()).map(
    e => [e.scrollWidth > e.clientWidth, e.getAttribute("role") === "region",
          e.tabIndex === 0, Boolean(e.getAttribute("aria-label"))])"""


def test_only_tables_that_scroll_are_stops_and_landmarks(browser: Any, address: str) -> None:
    with Watched(browser, address, viewport={"width": 1280, "height": 900}) as page:
        seen = set()
        for width in (1280, 340):
            page.tab.set_viewport_size({"width": width, "height": 900})
            page.tab.evaluate("document.querySelectorAll('details').forEach(d => {d.open = true})")
            page.tab.wait_for_timeout(200)
            found = page.tab.evaluate(REGIONS)
            assert len(found) > 10
            for scrolls, *held in found:
                assert held == [scrolls] * 3
                seen.add((width, scrolls))
        assert {(1280, False), (340, True)} <= seen


def test_without_scripts_every_table_is_a_stop(browser: Any, address: str) -> None:
    with Watched(browser, address, java_script_enabled=False) as page:
        boxes = page.tab.locator(".scroll")
        assert boxes.count() == page.tab.locator('.scroll[tabindex="0"][role="region"]').count() > 0


def test_the_findings_are_named_and_reached_from_the_top_of_a_phone(
    browser: Any, address: str
) -> None:
    with Watched(browser, address, viewport={"width": 390, "height": 844}) as page:
        assert page.tab.get_by_role("region", name="Findings", exact=True).count() == 1
        link = page.tab.locator("header").get_by_role("link", name="bout by bout")
        link.click()
        assert page.tab.locator("#h-findings").bounding_box()["y"] < 100
        page.tab.set_viewport_size({"width": 1280, "height": 900})
        assert link.is_hidden()


PICTURE_TYPE = """() => [...document.querySelectorAll("svg text:not(.row-name)")].filter(
    e => e.checkVisibility()).map(e => parseFloat(getComputedStyle(e).fontSize)
    * e.getScreenCTM().a)"""
LEAST_PX = 11.5


@pytest.mark.parametrize("width", [390, 1280])
def test_numbers_and_axes_in_pictures_are_large_enough_to_read(
    browser: Any, address: str, width: int
) -> None:
    with Watched(browser, address, viewport={"width": width, "height": 844}) as page:
        sizes = page.tab.evaluate(PICTURE_TYPE)
    assert len(sizes) > 100
    assert min(sizes) >= LEAST_PX


BROKEN_WORDS = """() => {
  const found = [];
  for (const cell of document.querySelectorAll("th, td")) {
    const walker = document.createTreeWalker(cell, NodeFilter.SHOW_TEXT);
    while (walker.nextNode()) {
      const node = walker.currentNode;
      for (const match of node.data.matchAll(/[\\p{L}\\p{N}_.]+/gu)) {
        const range = document.createRange();
        range.setStart(node, match.index);
        range.setEnd(node, match.index + match[0].length);
        const lines = new Set([...range.getClientRects()].map(r => Math.round(r.top)));
        if (match[0].length <= 30 && lines.size > 1) found.push(match[0]);
      }
    }
  }
  return found;
}"""


@pytest.mark.parametrize(("media", "width"), [("screen", 390), ("screen", 320), ("print", 700)])
def test_words_in_tables_stay_whole(browser: Any, results: Path, media: str, width: int) -> None:
    address = (results / "report.html").as_uri()
    with Watched(browser, address, viewport={"width": width, "height": 844}) as page:
        page.tab.evaluate("document.querySelectorAll('details').forEach(d => { d.open = true })")
        page.tab.evaluate("document.documentElement.classList.add('all')")
        page.tab.emulate_media(media=media)
        assert page.tab.locator("td:visible").count() > 100
        assert page.tab.evaluate(BROKEN_WORDS) == []
        assert page.tab.evaluate("document.documentElement.scrollWidth") <= width
