"""A gyroscope with wrong axes or scale is told, or does no harm to the sternum's yaw."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from itertools import permutations, product
from pathlib import Path

import numpy as np
import pytest

from imucarry.basics.records import Session, SessionScores
from imucarry.basics.settings import Settings
from imucarry.pipeline import run
from imucarry.readers.session import read_session

EXAMPLE = Path(__file__).parents[2] / "data" / "example"
# All ways to exchange and reverse axes but the right one.
AXES = [
    np.array(signs)[:, None] * np.eye(3)[list(order)]
    for order in permutations(range(3))
    for signs in product((1.0, -1.0), repeat=3)
][1:]
LEAST_SCALE = 1.2  # what the check of turns sees, from `worn.turned_times`


@cache
def example() -> Session:
    return read_session(EXAMPLE)


def scored(placement: str, matrix: np.ndarray) -> SessionScores:
    session = example()
    recordings = tuple(
        replace(item, gyr_radps=item.gyr_radps @ matrix.T) if item.placement == placement else item
        for item in session.recordings
    )
    return run(replace(session, recordings=recordings), Settings())


def yaw_deg(scores: SessionScores) -> np.ndarray:
    return np.array(
        [
            next(s.estimate.value for s in bout.scores if s.measure == "sternum_yaw_range")
            for bout in scores.bouts
        ]
    )


CODES = ("turns_contradict", "gyro_contradicts_gravity")


def told(scores: SessionScores, codes: tuple[str, ...] = CODES) -> set[str]:
    return {item.where for item in scores.notices if item.code in codes}


def test_the_example_is_right() -> None:
    assert told(scored("chest", np.eye(3))) == set()


@pytest.mark.parametrize("matrix", AXES, ids=lambda m: str(m.astype(int).tolist()))
def test_axes_of_the_chest(matrix: np.ndarray) -> None:
    found = scored("chest", matrix)
    if told(found):
        assert told(found) == {"chest"}
        return
    np.testing.assert_allclose(yaw_deg(found), yaw_deg(scored("chest", np.eye(3))), rtol=0.1)


@pytest.mark.parametrize("placement", ["chest", "left_wrist", "right_wrist"])
@pytest.mark.parametrize("scale", [0.5, 1 / (1.1 * LEAST_SCALE), 1.1 * LEAST_SCALE, 2.0])
def test_scale(placement: str, scale: float) -> None:
    assert told(scored(placement, scale * np.eye(3)), CODES[:1]) == {placement}


@pytest.mark.parametrize("matrix", AXES[::4], ids=lambda m: str(m.astype(int).tolist()))
def test_axes_of_a_wrist(matrix: np.ndarray) -> None:
    assert told(scored("left_wrist", matrix)) == {"left_wrist"}


def test_no_verdict_stands_on_a_chest_that_contradicts_itself() -> None:
    found = scored("chest", np.eye(3)[[1, 2, 0]])
    for bout in found.bouts:
        assert bout.comparison.rotation_finding == "unclear"
        assert bout.comparison.finding_because == "gyro_contradicts_gravity"
        kept = next(s.estimate for s in bout.comparison.scores if s.measure == "yaw_kept")
        assert (np.isnan(kept.value), kept.missing_because) == (True, "gyro_contradicts_gravity")
    assert {rung.answer for rung in found.ladder} == {"not_measured"}
