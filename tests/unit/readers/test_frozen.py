"""A frozen sensor is told; quiet standing, however coarsely recorded, is not."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from fuzz_layouts import Motion, invented_motion

from imucarry.basics.records import FloatArray, Recording
from imucarry.readers.frozen import frozen_samples, mark_frozen
from imucarry.readers.preview import describe

Writer = Callable[..., Path]
RATE_HZ = 50.0


def coarse_standing(n_rows: int = 1500) -> tuple[FloatArray, FloatArray]:
    """Quiet standing in steps so coarse that most values are those of the row before."""
    rng = np.random.default_rng(4)
    acc = np.round(np.array([0.0, 0.0, 9.81]) + 0.02 * rng.standard_normal((n_rows, 3)), 1)
    gyr = np.round(0.004 * rng.standard_normal((n_rows, 3)), 2)
    return acc, gyr


def frozen_at(first: int, last: int) -> tuple[FloatArray, FloatArray]:
    acc, gyr = coarse_standing()
    acc[first:last], gyr[first:last] = (0.1, 0.2, 9.9), (0.03, -0.02, 0.01)
    return acc, gyr


@pytest.mark.parametrize("first", [0, 1, 24, 25, 26, 333, 1400])
@pytest.mark.parametrize("n_held", [49, 50, 51, 100])
def test_a_frozen_spell_is_found_wherever_it_begins(first: int, n_held: int) -> None:
    found = frozen_samples(*frozen_at(first, first + n_held), 1 / RATE_HZ)
    assert found == (((first, first + n_held),) if n_held >= 50 else ())


def test_coarse_quiet_standing_is_not_frozen() -> None:
    acc, gyr = coarse_standing()
    assert np.mean(acc[1:] == acc[:-1]) > 0.8
    assert frozen_samples(acc, gyr, 1 / RATE_HZ) == ()


@pytest.mark.parametrize("moving", range(6))
def test_one_value_that_goes_on_is_enough_not_to_be_frozen(moving: int) -> None:
    both = np.ones((500, 6))
    both[::40, moving] = 1.01
    assert frozen_samples(both[:, :3], both[:, 3:], 1 / RATE_HZ) == ()


def recording(first: int, last: int) -> Recording:
    acc, gyr = frozen_at(first, last)
    return Recording("left_wrist", RATE_HZ, 100.0 + np.arange(len(acc)) / RATE_HZ, acc, gyr)


def test_a_spell_that_begins_before_a_bout_is_a_gap_as_a_whole() -> None:
    marked = mark_frozen(recording(400, 700), {"1": (100.0, 107.0), "b": (110.0, 120.0)})
    assert marked.gaps == ((400, 700),)
    (notice,) = marked.notices
    assert (notice.code, notice.where, notice.severity) == ("held_values", "left_wrist", "check")
    assert notice.message.startswith(
        "asleep or stuck (all six values unchanged) from 108.0 to 114.0 s in bout b: strides"
    )


def test_a_sensor_frozen_for_several_bouts_is_told_once() -> None:
    acc, gyr = frozen_at(200, 2200)
    acc[100:160], gyr[100:160] = acc[100], gyr[100]
    whole = Recording("left_wrist", RATE_HZ, np.arange(len(acc)) / RATE_HZ, acc, gyr)
    bouts = {"1": (0.0, 3.9), "2": (4.0, 20.0), "3": (21.0, 40.0)}
    (notice,) = mark_frozen(whole, bouts).notices
    assert "from 2.0 to 3.2 s in bout 1; from 4.0 to 30.0 s in bouts 2, 3: " in notice.message


def test_what_lies_still_between_bouts_stays_rest() -> None:
    before = recording(400, 700)
    assert mark_frozen(before, {"1": (100.0, 108.5), "2": (113.5, 120.0)}) is before


def test_many_spells_are_counted() -> None:
    acc, gyr = coarse_standing()
    for first in range(100, 1100, 200):
        acc[first : first + 60], gyr[first : first + 60] = acc[first], gyr[first]
    whole = Recording("chest", RATE_HZ, np.arange(len(acc)) / RATE_HZ, acc, gyr)
    (notice,) = mark_frozen(whole, {"1": (0.0, 30.0)}).notices
    assert "from 2.0 to 3.2 s and from 6.0 to 7.2 s and from 10.0 to 11.2 s and 2 more times" in (
        notice.message
    )


def test_the_preview_says_when_a_sensor_was_frozen(write_layout: Writer) -> None:
    motion: Motion = invented_motion(1000)
    acc, gyr = motion.acc.copy(), motion.gyr.copy()
    acc[400:600], gyr[400:600] = acc[400], (0.03, -0.02, 0.01)
    path = write_layout("chest.csv", replace(motion, acc=acc, gyr=gyr))
    (preview,) = describe([path])
    said = [notice.message for notice in preview.reading.notices if notice.code == "held_values"]
    assert len(said) == 1
    assert "asleep or stuck (all six values unchanged) from 4.0 to 6.0 s: in a bout" in said[0]
    (whole,) = describe([write_layout("left_wrist.csv", motion)])
    assert "held_values" not in {notice.code for notice in whole.reading.notices}
