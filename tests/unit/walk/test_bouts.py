"""Walking bouts found without a sheet."""

from __future__ import annotations

import re
from dataclasses import replace

import numpy as np
import pandas as pd
import pytest
from moving_body import multiply, record, thorax_quat, turn
from seglearn.datasets import load_watch
from stepping_trunk import stepping, told_contacts

from imucarry.basics.records import Recording, Session, Window
from imucarry.basics.settings import MotionSettings, Settings, WalkSettings
from imucarry.basics.units import STANDARD_GRAVITY_MPS2
from imucarry.motion.orientation import estimate_orientation
from imucarry.motion.rotations import conjugate, rotate
from imucarry.pipeline import run
from imucarry.walk import bouts
from imucarry.walk.bouts import (
    check_passed_over,
    find_walking,
    find_walks,
    join,
    spells_of,
    with_margins,
)
from imucarry.walk.search import correlation, only_peaks

SETTINGS = WalkSettings()
MOUNT = multiply(turn((0.6, 0.0, 0.8), 130.0), turn((0, 1, 0), -20.0))


def chest_of(*, walks, length_s):
    """Return a chest recording with walks at told times, and its exact orientation."""
    contact_s = np.concatenate([told_contacts(n=n, start_s=start) for start, n in walks])
    walk = stepping(contact_s, length_s=length_s)
    level = np.zeros(walk.trunk.time_s.size)
    thorax = thorax_quat(level, level, level)
    return record("chest", thorax, walk.trunk.acc_mps2, walk.trunk.time_s, MOUNT)


def found(recording, settings=SETTINGS):
    orientation = estimate_orientation(recording, MotionSettings())
    return find_walking([recording], [orientation], settings)


def test_each_walk_is_a_bout():
    recording, orientation = chest_of(walks=[(20.0, 30), (60.0, 20)], length_s=90.0)
    first, second = find_walking([recording], [orientation], SETTINGS)
    for window, (start_s, n_steps) in ((first, (20.0, 30)), (second, (60.0, 20))):
        end_s = start_s + 0.55 * (n_steps - 1)
        assert start_s - 4.0 < window.start_s < start_s
        assert end_s < window.end_s < end_s + 4.0


def test_a_short_stop_is_within_a_bout_and_can_be_set():
    recording, orientation = chest_of(walks=[(20.0, 20), (34.5, 20)], length_s=60.0)
    assert len(find_walking([recording], [orientation], SETTINGS)) == 1
    strict = WalkSettings(bout_gap_s=0.5)
    assert len(find_walking([recording], [orientation], strict)) == 2


def swinging(*, bounce_m=0.02, lead=0.0, swing_deg=35.0, cadence=110.0):
    """Return a wrist that hangs, swings from 10 to 38 s, and hangs; legs lift it a step.

    A forearm and upper arm of 0.5 m as one pendulum: it is high at both ends of its swing,
    at the contacts, when the trunk is low. `lead` is the trunk's, as a part of a step.
    """
    time_s = np.arange(5000) / 100.0
    rate = cadence / 120.0
    phase = 2.0 * np.pi * rate * (time_s - 10.0)
    there = np.interp(time_s, [9.5, 10.5, 37.5, 38.5], [0.0, 1.0, 1.0, 0.0])
    angle = np.radians(swing_deg) / 2.0 * np.cos(phase) * there
    height = -bounce_m * there * np.cos(2.0 * phase + 2.0 * np.pi * lead) - 0.5 * np.cos(angle)
    place = np.column_stack([0.5 * np.sin(angle), 0.0 * angle, height])
    acc = np.gradient(np.gradient(place, time_s, axis=0), time_s, axis=0)
    acc += 0.1 * np.random.default_rng(4).standard_normal(acc.shape)
    arm = thorax_quat(0.0 * angle, 0.0 * angle, -angle)
    return record("left_wrist", arm, acc, time_s, MOUNT)


@pytest.mark.parametrize("bounce_m", [0.0165, 0.02, 0.027])
@pytest.mark.parametrize("cadence", [100.0, 118.0])
def test_a_wide_swing_that_hides_the_steps_is_a_bout(bounce_m, cadence):
    recording, orientation = swinging(bounce_m=bounce_m, cadence=cadence)
    (window,) = find_walking([recording], [orientation], SETTINGS)
    assert 6.0 < window.start_s < 11.0
    assert 37.0 < window.end_s < 42.0
    assert check_passed_over([recording], [orientation], [window]) == ()


def test_lifting_just_after_a_walk_that_the_swing_shows_stands_apart():
    recording, orientation = swinging()
    lift = 2.0 * np.cos(2.0 * np.pi * 110.0 / 60.0 * recording.time_s)
    lift *= (recording.time_s > 41.0) & (recording.time_s < 49.0)
    up = rotate(conjugate(orientation.quat), np.array([0.0, 0.0, 1.0])[None])
    recording = replace(recording, acc_mps2=recording.acc_mps2 + lift[:, None] * up)
    walk, after = find_walks([recording], [orientation], SETTINGS)
    assert walk.by_swing
    assert not after.by_swing
    assert 37.0 < walk.window.end_s <= after.window.start_s < 42.0


def test_one_arm_that_swings_is_no_walk_where_two_are_worn():
    left, orientation = swinging()
    still = replace(standing()[0], placement="right_wrist")
    still_orientation = estimate_orientation(still, MotionSettings())
    windows = find_walking([left, still], [orientation, still_orientation], SETTINGS)
    assert windows == ()
    (notice,) = check_passed_over([left, still], [orientation, still_orientation], windows)
    assert notice.code == "arm_swung_as_in_walk"
    right = replace(left, placement="right_wrist")
    assert len(find_walking([left, right], [orientation] * 2, SETTINGS)) == 1


@pytest.mark.parametrize(
    ("lifting", "swinging_s", "expected"),
    [
        # Talk 3 s before and after the free walk; the next walk follows 2 s after the talk.
        (
            [(3, 22), (56, 66), (68, 95)],
            [(25, 53)],
            [(3, 22, False), (25, 53, True), (56, 95, False)],
        ),
        # Half of the walk lifts the wrist too: one walk, and the talk before it stands apart.
        ([(3, 22), (24, 38)], [(25, 53)], [(3, 22, False), (24, 53, False)]),
        # The swing of the free arm within a carry that lifts the other.
        ([(90, 132)], [(92, 117)], [(90, 132, False)]),
        # The talk goes on into the walk: the walk is what is left.
        ([(3, 27)], [(25, 53)], [(3, 27, False), (27, 53, True)]),
    ],
)
def test_a_walk_that_the_swing_shows_is_not_joined_with_what_is_beside_it(
    lifting, swinging_s, expected, monkeypatch
):
    monkeypatch.setattr(bouts, "wrist_spells", lambda _: [Window(*map(float, x)) for x in lifting])
    swung = [Window(*map(float, x)) for x in swinging_s]
    monkeypatch.setattr(bouts, "swing_spells", lambda _: swung)
    monkeypatch.setattr(bouts, "with_margins", lambda spells, *_: tuple(spells))
    recording, orientation = standing()
    recording = replace(recording, placement="left_wrist")
    walks = find_walks([recording], [orientation], SETTINGS)
    seen = [(walk.window.start_s, walk.window.end_s, walk.by_swing) for walk in walks]
    assert seen == expected


def test_a_swing_that_is_no_bout_is_told():
    # Each second bounce of the trunk is missing: steps do not repeat, strides do.
    recording, orientation = swinging()
    lift = 1.5 * np.cos(2.0 * np.pi * 110.0 / 120.0 * (recording.time_s - 10.0))
    lift *= (recording.time_s > 10.0) & (recording.time_s < 38.0)
    up = rotate(conjugate(orientation.quat), np.array([0.0, 0.0, 1.0])[None])
    recording = replace(recording, acc_mps2=recording.acc_mps2 + lift[:, None] * up)
    assert find_walking([recording], [orientation], SETTINGS) == ()
    (notice,) = check_passed_over([recording], [orientation], ())
    assert notice.code == "arm_swung_as_in_walk"
    assert notice.severity == "check"
    assert re.search(r"at (9|10|11) to 3\d s, but", notice.message)


def standing(bobs_per_min=0.0):
    """Return a minute of standing, or of going up and down, and its exact orientation."""
    rng = np.random.default_rng(3)
    time_s = np.arange(6000) / 100.0
    level = np.zeros(6000)
    acc = 0.05 * rng.standard_normal((6000, 3))
    bobbing = 2.5 * np.sin(2.0 * np.pi * bobs_per_min / 60.0 * time_s)
    acc[:, 2] += np.where((time_s > 10.0) & (time_s < 50.0), bobbing, 0.0)
    return record("chest", thorax_quat(level, level, level), acc, time_s, MOUNT)


def test_no_walking_in_standing():
    recording, orientation = standing()
    assert find_walking([recording], [orientation], SETTINGS) == ()


@pytest.mark.parametrize("bobs_per_min", [42.0, 50.0, 54.0])
def test_slow_exercise_of_the_trunk_is_no_walking(bobs_per_min):
    recording, orientation = standing(bobs_per_min)
    assert find_walking([recording], [orientation], SETTINGS) == ()


@pytest.mark.parametrize("placement", ["chest", "left_wrist"])
def test_a_visit_without_walking_says_so(placement):
    recording, _ = standing()
    session = Session("P", "1", (replace(recording, placement=placement),))
    (notice,) = [item for item in run(session, Settings()).notices if item.code == "no_bout_found"]
    assert "bouts.csv" in notice.message
    slowest = 60 if placement == "chest" else 75
    assert f"from {slowest} steps a minute" in notice.message


def test_a_few_steps_are_no_bout():
    recording, orientation = chest_of(walks=[(20.0, 4)], length_s=40.0)
    assert find_walking([recording], [orientation], SETTINGS) == ()


def test_the_chest_decides_where_there_is_one():
    recording, orientation = chest_of(walks=[(20.0, 30)], length_s=60.0)
    still = Recording("left_wrist", 100.0, recording.time_s.copy(),
                      np.tile([0.0, 0.0, 9.81], (6000, 1)), np.zeros((6000, 3)))  # fmt: skip
    still_orientation = estimate_orientation(still, MotionSettings())
    both = find_walking([still, recording], [still_orientation, orientation], SETTINGS)
    assert both == find_walking([recording], [orientation], SETTINGS)


def test_a_long_recording_is_searched_in_parts():
    # The walk lies over the edge of a part (300 s).
    recording, orientation = chest_of(walks=[(285.0, 60)], length_s=400.0)
    (window,) = find_walking([recording], [orientation], SETTINGS)
    assert window.start_s < 285.0
    assert window.end_s > 285.0 + 59 * 0.55


def test_nothing_recorded():
    assert find_walking([], [], SETTINGS) == ()


def test_shoulder_exercises_are_no_walking():
    # seglearn 1.2.5 (PyPI, BSD): 140 recordings of seven shoulder exercises with a watch,
    # 50 Hz, acceleration in g. None of them holds walking.
    recordings = load_watch()["X"]
    assert len(recordings) == 140
    walking = []
    for number, rows in enumerate(recordings):
        values = np.asarray(rows, dtype=np.float64)
        recording = Recording(
            placement="left_wrist",
            rate_hz=50.0,
            time_s=np.arange(values.shape[0]) / 50.0,
            acc_mps2=values[:, :3] * STANDARD_GRAVITY_MPS2,
            gyr_radps=values[:, 3:6].copy(),
        )
        if found(recording):
            walking.append(number)
    assert walking == []


def test_short_walks_with_a_watch(open_data):
    # Matey-Sanz et al. 2023, Data in Brief, doi 10.1016/j.dib.2023.109809: 55 runs of
    # sit, stand, walk, turn; 2 to 3 s of walking at a time, labelled sample by sample.
    n_found, covered = 0, []
    files = sorted((open_data / "watch_walks").glob("s*_sw.csv"))
    for file in files:
        table = pd.read_csv(file)
        rate_hz = (len(table) - 1) / (np.ptp(table["timestamp"]) / 1000.0)
        recording = Recording(
            placement="left_wrist",
            rate_hz=float(rate_hz),
            time_s=np.arange(len(table)) / rate_hz,
            acc_mps2=table.iloc[:, 0:3].to_numpy(dtype=np.float64, copy=True),
            gyr_radps=table.iloc[:, 3:6].to_numpy(dtype=np.float64, copy=True),
        )
        windows = found(recording)
        n_found += bool(windows)
        inside = np.zeros(len(table), dtype=bool)
        for window in windows:
            inside |= (recording.time_s >= window.start_s) & (recording.time_s <= window.end_s)
        covered.append(inside[(table["label"] == "WALKING").to_numpy()].mean())
    # 52 of 55 were found when this was written; walking is asked of nine runs in ten.
    assert n_found >= 0.9 * len(files)
    assert np.mean(covered) > 0.85


# --- the parts -------------------------------------------------------------------


def test_spells_are_bridged_over_short_dropouts_and_cut_at_quiet_parts():
    time_s = np.arange(20) * 0.25
    walking = np.ones(20, dtype=bool)
    walking[8:10] = False
    assert spells_of(walking, time_s) == [(0, 20)]
    later = np.concatenate([time_s[:10], time_s[10:] + 60.0])
    assert spells_of(np.ones(20, dtype=bool), later) == [(0, 10), (10, 20)]


def test_joining_and_margins():
    spells = [Window(10.0, 20.0), Window(22.0, 30.0), Window(40.0, 50.0)]
    joined = join(spells, 5.0)
    assert joined == [Window(10.0, 30.0), Window(40.0, 50.0)]
    assert with_margins(joined, 9.5, 50.5) == (Window(9.5, 31.5), Window(38.5, 50.5))
    close = with_margins([Window(10.0, 20.0), Window(21.0, 30.0)], 0.0, 99.0)
    assert close[0].end_s == close[1].start_s == 20.5


@pytest.mark.parametrize("lag", [20, 40])
def test_a_periodic_signal_repeats_after_its_period(lag):
    x = np.sin(2 * np.pi * np.arange(600) / 20.0)[:, None]
    rows, rms = correlation(x, np.array([10, lag]), 200, 50, 0.0)
    # In the middle the window holds whole periods.
    assert rows[6, 0] == pytest.approx(-1.0, abs=0.02)
    assert rows[6, 1] == pytest.approx(1.0, abs=0.02)
    assert rms[6] == pytest.approx(np.sqrt(0.5), abs=0.01)


def test_only_peaks_are_left():
    assert only_peaks(np.array([[0.1, 0.5, 0.3, 0.4]])).tolist() == [[-1.0, 0.5, -1.0, -1.0]]
