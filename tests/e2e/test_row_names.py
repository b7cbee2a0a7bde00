"""The names of rows in the pictures of strides: no line through them, no dot on them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from in_browser import Watched, needs_browser, opened_browser, write
from scores_builder import VISIT, build_scores

pytestmark = needs_browser
PAPER_PX = 695
"""Width between the margins of A4, at 96 px an inch."""

STRUCK = """() => {
  const found = [];
  for (const plot of document.querySelectorAll(
      'figure[data-figure="rotation"] svg.plot, figure[data-figure^="swing"] svg.plot')) {
    const shapes = [...plot.querySelectorAll('*')];
    const box = shape => shape.getBoundingClientRect();
    const meet = (a, b) => a.top < b.bottom && b.top < a.bottom && a.left < b.right
        && b.left < a.right;
    for (const name of plot.querySelectorAll(".row-name")) {
      const ground = shapes.findLast(shape => shape.matches(".row-ground")
          && box(shape).top <= box(name).top + 1.5 && box(shape).bottom >= box(name).bottom - 1.5);
      if (!ground) { found.push("no ground: " + name.textContent); continue; }
      if (box(name).right > box(plot).right) found.push("too wide: " + name.textContent);
      for (const shape of plot.querySelectorAll("path[class^='l-'], path[class^='d-'], rect")) {
        const hidden = ground.compareDocumentPosition(shape) & Node.DOCUMENT_POSITION_PRECEDING;
        if (shape !== ground && !hidden && meet(box(name), box(shape)))
          found.push(shape.getAttribute("class") + " on " + name.textContent);
      }
    }
  }
  return found;
}"""


SMALLEST_PT = """() => Math.min(...[...document.querySelectorAll(
    'figure[data-figure="rotation"] .row-name, figure[data-figure^="swing"] .row-name')]
  .filter(name => name.checkVisibility())
  .map(name => 0.75 * name.getScreenCTM().a * parseFloat(getComputedStyle(name).fontSize)))"""


@pytest.fixture(scope="module")
def browser() -> Iterator[Any]:
    with opened_browser() as opened:
        yield opened


@pytest.mark.parametrize(
    ("media", "width"), [("screen", 390), ("screen", 768), ("screen", 1280), ("print", 695)]
)
@pytest.mark.parametrize("n_bouts", [8, 12, 27])
def test_nothing_is_drawn_through_the_name_of_a_row(
    browser: Any, tmp_path: Path, media: str, width: int, n_bouts: int
) -> None:
    scores = build_scores(visit=(VISIT * 4)[:n_bouts])
    implements = ("kettlebell", "sandbag")
    bouts = tuple(
        replace(bout, data=replace(bout.data, row=replace(
            bout.data.row, bout=str(k + 1), implement=implements[k % 2])))
        for k, bout in enumerate(scores.bouts)
    )  # fmt: skip
    address = write(tmp_path, replace(scores, bouts=bouts))
    with Watched(browser, address, viewport={"width": width, "height": 844}) as page:
        page.tab.evaluate("document.documentElement.classList.add('all')")
        page.tab.emulate_media(media=media)
        assert page.tab.locator(".row-name").count() >= 3 * n_bouts
        assert page.tab.evaluate(STRUCK) == []


@pytest.mark.parametrize("n_bouts", [8, 10, 20, 27])
def test_the_names_of_rows_are_large_enough_to_read_on_paper(
    browser: Any, tmp_path: Path, n_bouts: int
) -> None:
    scores = build_scores(visit=(VISIT * 4)[:n_bouts])
    with Watched(
        browser, write(tmp_path, scores), viewport={"width": PAPER_PX, "height": 1000}
    ) as page:
        page.tab.evaluate("document.documentElement.classList.add('all')")
        page.tab.emulate_media(media="print")
        assert page.tab.evaluate(SMALLEST_PT) >= 7.0
