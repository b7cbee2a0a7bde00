"""What the cohort page's pictures show of bouts with pain, of lines, and of their axes."""

from __future__ import annotations

import re

import pytest
from cohort_builder import cohort

from imucarry.basics.settings import CarrySettings, Settings
from imucarry.report.cohort.charts import kept_view, measure_views
from imucarry.report.views import FigureView

YAW = ("sternum_yaw_range", "none")
WITH_PAIN = "one with pain or an early stop"


def kept(*bouts: dict[str, object], settings: Settings | None = None) -> FigureView:
    own = [({"bout": str(k), **bout}, {YAW: 5.0 + k}) for k, bout in enumerate(bouts)]
    view = kept_view(cohort(own, settings))
    assert view is not None
    return view


def n_dots(view: FigureView, style: str) -> int:
    paths = re.findall(rf'class="d-{style}" d="([^"]*)"', view.svg)
    return sum(path.count("M") for path in paths)


def key(view: FigureView) -> list[str]:
    return [label for _, label in view.legend]


HURT = {"load_kg": 24.0, "pain_0_10": 5.0}
STOPPED = {"load_kg": 24.0, "stop_reason": "grip failed"}


@pytest.mark.parametrize("ended", [HURT, STOPPED])
def test_a_bout_with_pain_or_a_stop_is_hollow_and_told(ended: dict[str, object]) -> None:
    view = kept({}, {"load_kg": 20.0}, ended)
    assert (n_dots(view, "one_of_many"), n_dots(view, "one_open")) == (2, 1)
    assert WITH_PAIN in key(view)
    assert view.caption.endswith("A hollow dot does not count as kept.")


def test_nothing_hollow_is_told_where_nothing_hollow_is_drawn() -> None:
    view = kept({}, {"load_kg": 24.0})
    assert WITH_PAIN not in key(view)
    assert "hollow" not in view.caption


def test_pain_within_the_limit_that_was_set_is_not_hollow() -> None:
    settings = Settings(carry=CarrySettings(pain_limit_0_10=5.0))
    assert n_dots(kept({}, HURT, settings=settings), "one_open") == 0


def test_the_line_that_counts_as_kept_is_drawn_and_named() -> None:
    view = kept({})
    assert 'class="l-limit"' in view.svg
    assert "75 % counts as kept" in key(view)
    own = kept({}, settings=Settings(carry=CarrySettings(reduced_pct=80.0)))
    assert "80 % counts as kept" in key(own)


def test_both_lines_lie_within_the_picture_where_all_kept_less() -> None:
    view = kept({"yaw_kept_pct": 30.0})
    (free,) = re.findall(r'class="l-free" d="M[^ ]+ (-?[0-9.]+)', view.svg)
    assert float(free) > 0


def test_each_panel_tells_its_hold_and_what_the_percentage_is_of() -> None:
    mixed = {"hold": "mixed", "loaded_side": "both", "left_hold": "rack", "right_hold": "suitcase"}
    view = kept({}, {"hold": "rack"}, mixed)
    for hold in ("weight at the side", "rack", "rack left, side right"):
        assert f">{hold}: rotation kept (% of the free walk)<" in view.svg


def test_the_measures_mark_bouts_with_pain_too_and_the_ring_hides_none() -> None:
    own = [({"bout": str(k), **bout}, {YAW: 5.0}) for k, bout in enumerate([{}, {}, HURT])]
    own[2][0]["load_kg"] = 16.0
    (view,) = measure_views(cohort(own))
    assert (n_dots(view, "one_of_many"), n_dots(view, "one_open")) == (2, 1)
    assert {WITH_PAIN, "median"} <= set(key(view))
    drawn = re.findall(r'class="d-(\w+)"', view.svg)
    assert drawn == ["before", "one_of_many", "one_open"]
