"""Noted times that do not fit the walking are told, with by how much."""

from __future__ import annotations

import re

import numpy as np
import pytest

from imucarry.basics.records import BoutRow, Recording
from imucarry.walk.sheet_times import check_times

RATE_HZ = 50.0
WALKS_S = ((20.0, 55.0), (80.0, 120.0), (150.0, 185.0))


def recording(walks_s=WALKS_S, size=3.0, end_s=220.0, rate_hz=RATE_HZ):
    time_s = np.arange(round(end_s * rate_hz)) / rate_hz
    walking = np.zeros(time_s.size)
    for start_s, stop_s in walks_s:
        walking[(time_s >= start_s) & (time_s < stop_s)] = 1.0
    acc = np.zeros((time_s.size, 3))
    noise = np.random.default_rng(2).normal(size=time_s.size)
    acc[:, 2] = 9.81 + size * walking * np.sin(2 * np.pi * 1.8 * time_s) + 0.05 * noise
    return Recording("chest", rate_hz, time_s, acc, np.zeros_like(acc))


def rows(shift_s=0.0, walks_s=WALKS_S):
    return [BoutRow(str(k), a + shift_s, b + shift_s) for k, (a, b) in enumerate(walks_s)]


@pytest.mark.parametrize("late_s", [-15.0, -7.0, 7.0, 15.0])
def test_a_sheet_that_is_off_is_told_by_how_much(late_s):
    (found,) = check_times(rows(late_s), recording())
    assert (found.code, found.severity) == ("times_do_not_fit", "check")
    told_s, way = re.search(r"about (\d+) s (later|earlier)", found.message).groups()
    assert abs(float(told_s) - abs(late_s)) <= 2.0
    assert way == ("earlier" if late_s > 0 else "later")


@pytest.mark.parametrize("late_s", [0.0, -2.0, 2.0])
def test_a_sheet_that_fits_says_nothing(late_s):
    assert check_times(rows(late_s), recording()) == ()


@pytest.mark.parametrize("rate_hz", [17.0, 31.25, 51.2, 59.5, 62.5, 102.4])
def test_seconds_are_seconds_at_every_rate(rate_hz):
    walks = tuple((a + 900.0, b + 900.0) for a, b in WALKS_S)
    late = recording(walks, end_s=1130.0, rate_hz=rate_hz)
    assert check_times(rows(walks_s=walks), late) == ()
    assert len(check_times(rows(8.0, walks), late)) == 1


def test_a_brisker_walk_between_the_bouts_draws_them_nowhere():
    back = recording(walks_s=((0.0, 220.0),), size=6.0)
    slow = recording()
    mixed = Recording(
        "chest", RATE_HZ, slow.time_s, np.where(slow_walk(slow), slow.acc_mps2, back.acc_mps2),
        slow.gyr_radps,
    )  # fmt: skip
    assert check_times(rows(), mixed) == ()


def slow_walk(of):
    inside = np.zeros(of.time_s.size, dtype=bool)
    for start_s, stop_s in WALKS_S:
        inside |= (of.time_s >= start_s) & (of.time_s < stop_s)
    return inside[:, None]


def test_windows_inside_one_long_walk_say_nothing():
    whole = recording(walks_s=((5.0, 215.0),))
    assert check_times(rows(), whole) == ()


def test_nothing_to_compare_is_no_harm():
    assert check_times([], recording()) == ()
    assert check_times([BoutRow("a", float("nan"), float("nan"))], recording()) == ()
    assert check_times(rows(), recording(size=0.0)) == ()
    assert check_times(rows(walks_s=((0.0, 5.0),)), recording(((0.0, 5.0),), end_s=8.0)) == ()
