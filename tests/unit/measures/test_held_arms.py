"""Without a chest sensor: what the arms show of a carry, and what arms that hold a load do not."""

from __future__ import annotations

from dataclasses import fields, replace

import numpy as np
import pytest
from invented_bout import make_bout, without_chest

from imucarry.basics.records import BoutData, Estimate, Side
from imucarry.basics.settings import MeasureSettings
from imucarry.measures.notices import no_walking, score_notices
from imucarry.measures.reasons import NOTES
from imucarry.measures.table import compute_scores

SETTINGS = MeasureSettings()


def carried(
    n_left: int, n_right: int, *, loaded: str = "both", end_s: float = 40.0, wrists: str = "both"
) -> BoutData:
    """A carry of 24 kg that each arm shows the first cycles of, 1.1 s each."""
    data = without_chest(make_bout(30, hold="suitcase", loaded=loaded, load_kg=24.0))
    shown: dict[Side, int] = {"left": n_left, "right": n_right}
    swing = {
        side: replace(
            arm,
            **{
                field.name: getattr(arm, field.name)[: shown[side]]
                for field in fields(arm)
                if isinstance(getattr(arm, field.name), np.ndarray)
            },
        )
        for side, arm in data.swing.items()
        if wrists in ("both", side)
    }
    return replace(data, swing=swing, row=replace(data.row, end_s=end_s))


def found(data: BoutData, measure: str, side: str = "none") -> Estimate:
    scores = compute_scores(data, SETTINGS)
    return next(s.estimate for s in scores if s.measure == measure and s.side == side)


@pytest.mark.parametrize(
    ("n_left", "n_right", "loaded"),
    [(0, 0, "both"), (1, 4, "both"), (20, 4, "both"), (0, 9, "left")],
)
def test_a_walk_that_no_arm_shows_lasts_from_its_bouts_start_to_its_end(
    n_left: int, n_right: int, loaded: str
) -> None:
    data = carried(n_left, n_right, loaded=loaded)
    time_s, load_time = found(data, "loaded_time"), found(data, "load_time")
    assert time_s.value == pytest.approx(40.0)
    assert load_time.value == pytest.approx(24.0 * 40.0)
    assert "bout_times" in time_s.notes
    assert "bout_times" in load_time.notes
    assert "bout_times" in NOTES


@pytest.mark.parametrize(
    ("n_left", "n_right", "loaded", "end_s", "n_cycles"),
    [
        (30, 2, "both", 40.0, 30),  # a held arm that shows most of the bout
        (0, 24, "left", 40.0, 24),
        (0, 12, "left", 60.0, 12),  # a free arm is believed: much of the bout may be standing
    ],
)
def test_a_walk_that_an_arm_shows_lasts_as_long_as_its_cycles(
    n_left: int, n_right: int, loaded: str, end_s: float, n_cycles: int
) -> None:
    time_s = found(carried(n_left, n_right, loaded=loaded, end_s=end_s), "loaded_time")
    assert time_s.value == pytest.approx(1.1 * n_cycles)
    assert time_s.n_used == n_cycles
    assert "bout_times" not in time_s.notes


@pytest.mark.parametrize(("wrists", "who"), [("both", "both hands"), ("left", "the left hand")])
def test_that_arms_that_hold_the_load_show_no_walking_is_no_walk_that_is_missing(
    wrists: str, who: str
) -> None:
    data = carried(0, 0, wrists=wrists)
    assert not no_walking(data)
    (notice,) = score_notices(data, compute_scores(data, SETTINGS), SETTINGS)
    assert (notice.code, notice.severity) == ("held_arms_alone", "note")
    assert notice.message == (
        f"{who} held the load: the wrist alone does not show how long was walked between 0 and 40 s"
    )


def test_a_free_arm_that_shows_no_walking_is_still_a_check() -> None:
    data = carried(0, 0, loaded="left")
    assert no_walking(data)
    (notice,) = score_notices(data, compute_scores(data, SETTINGS), SETTINGS)
    assert (notice.code, notice.severity) == ("no_walking", "check")


def test_a_swing_has_no_limit_below_0() -> None:
    data = carried(30, 30)
    arm = data.swing["left"]
    ranges = arm.range_rad * 0.05
    ranges[-1] *= 100.0  # one turn
    data = replace(data, swing={**data.swing, "left": replace(arm, range_rad=ranges)})
    swing, other = found(data, "arm_swing", "left"), found(data, "arm_swing", "right")
    assert swing.ci_low == 0.0
    assert swing.ci_high > 2.0 * swing.value  # as wide as it was
    assert other.ci_low > 0.0
