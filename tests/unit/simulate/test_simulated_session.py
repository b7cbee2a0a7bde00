"""The invented session is what it says: rigid, exact, the same for the same seed."""

from __future__ import annotations

from dataclasses import asdict, replace

import numpy as np
import pytest
from invented_clients import random_client
from perfect_sensor import perfect
from scipy.spatial.transform import Rotation

from imucarry.basics.records import BoutRow, FloatArray
from imucarry.basics.units import STANDARD_GRAVITY_MPS2
from imucarry.simulate.path import curve, passes, stop, straight, turn
from imucarry.simulate.sensors import Sensor
from imucarry.simulate.session import Bout, SessionSpec, SimulatedSession, simulate_session
from imucarry.simulate.walker import Arm, Walker, holding

NAN = float("nan")
PLACES = ("chest", "left_wrist", "right_wrist")


def spec_of(walker: Walker, legs: tuple = passes(2, 6.0), **sensor: object) -> SessionSpec:
    row = BoutRow("1", NAN, NAN, hold="free", loaded_side="none", load_kg=0.0)
    base = perfect(Sensor("chest", rate_hz=200.0))
    sensors = tuple(replace(base, placement=place, **sensor) for place in PLACES)
    return SessionSpec((Bout(row, walker, legs),), sensors)


STEADY = Walker(
    stride_time_cv=0.0,
    step_time_sd_s=0.0,
    yaw_sd_deg=0.0,
    yaw_loose_deg=0.0,
    veer_deg=0.0,
    lean_deg=4.0,
    pitch_deg=3.0,
    left_arm=Arm(swing_deg=30.0, swing_sd_deg=0.0, sideways_deg=0.0, tremble_deg=0.0),
    right_arm=Arm(
        swing_deg=24.0, swing_sd_deg=0.0, sideways_deg=0.0, tremble_deg=0.0, phase_deg=0.0
    ),
)


@pytest.fixture(scope="module")
def steady() -> SimulatedSession:
    return simulate_session(spec_of(STEADY), 3)


@pytest.fixture(scope="module")
def client() -> SimulatedSession:
    return simulate_session(random_client(5), 5)


def integrated(gyr: FloatArray, rate_hz: float, start: Rotation) -> Rotation:
    """Integrate the rate by the trapezoid of neighbouring samples."""
    turns = [start]
    for step in Rotation.from_rotvec(0.5 * (gyr[1:] + gyr[:-1]) / rate_hz):
        turns.append(turns[-1] * step)
    return Rotation.concatenate(turns)


def test_integrated_rate_gives_true_yaw_and_heading(steady: SimulatedSession) -> None:
    chest, truth = steady.recordings[0], steady.truth[0]
    slope = np.deg2rad(STEADY.sternum_slope_deg)
    still = chest.acc_mps2[: int(8 * chest.rate_hz)].mean(axis=0)
    start, _ = Rotation.align_vectors(
        [[0.0, 0.0, 1.0], [1.0, 0.0, 0.0]],
        [still, [np.cos(slope), 0.0, -np.sin(slope)]],
        weights=[np.inf, 1.0],
    )
    turns = integrated(chest.gyr_radps, chest.rate_hz, start)
    forward = turns.apply([np.cos(slope), 0.0, -np.sin(slope)])
    found = np.rad2deg(np.unwrap(np.arctan2(forward[:, 1], forward[:, 0])))
    expected = truth.yaw_deg + truth.heading_deg
    there = np.interp(truth.time_s, chest.time_s, found)
    error = (there - expected) - np.mean(there - expected)
    # Breathing and sway while the start is taken leave some hundredths of a degree.
    assert np.abs(error).max() < 0.15


def test_standing_still_weighs_one_g(steady: SimulatedSession) -> None:
    for recording in steady.recordings:
        part = recording.acc_mps2[: int(10 * recording.rate_hz)]
        size = np.linalg.norm(part, axis=1)
        assert abs(size.mean() - STANDARD_GRAVITY_MPS2) < 0.01
        assert size.std() < 0.05


def test_steady_walker_repeats_what_was_asked_for(steady: SimulatedSession) -> None:
    truth = steady.truth[0]
    inner = (truth.pass_number > 0) & (truth.path_apart_s > 1.0)
    assert inner.sum() >= 6
    np.testing.assert_allclose(truth.sternum_yaw_range_deg[inner], 8.0, atol=0.01)
    np.testing.assert_allclose(truth.left_arm_swing_deg[inner], 30.0, rtol=0.003)
    np.testing.assert_allclose(truth.right_arm_swing_deg[inner], 24.0, rtol=0.003)
    np.testing.assert_allclose((truth.end_s - truth.start_s)[inner], 1.0 / 0.92, atol=1e-9)
    # The standing sway (0.35 deg) goes on under the walk.
    np.testing.assert_allclose(truth.lean_deg[inner], 4.0, atol=1.2)
    np.testing.assert_allclose(truth.pitch_deg[inner], 3.0, atol=1.2)
    apart = (truth.left_arm_phase_deg - truth.right_arm_phase_deg)[inner] % 360.0
    np.testing.assert_allclose(apart, 180.0, atol=2.0)


def test_contacts_alternate_and_bound_the_strides(client: SimulatedSession) -> None:
    for truth in client.truth:
        assert (np.diff(truth.contact_s) > 0.2).all()
        assert (truth.is_left[1:] != truth.is_left[:-1]).all()
        assert np.isin(truth.start_s, truth.contact_s[truth.is_left]).all()
        assert np.isin(truth.right_contact_s, truth.contact_s[~truth.is_left]).all()
        assert (truth.start_s < truth.right_contact_s).all()
        assert (truth.right_contact_s < truth.end_s).all()


def test_bout_windows_hold_their_walk(client: SimulatedSession) -> None:
    for row, truth in zip(client.bout_rows, client.truth, strict=True):
        assert row.start_s < truth.walk_start_s < truth.walk_end_s < row.end_s


def test_asymmetry_of_step_times_is_the_one_asked_for() -> None:
    walker = replace(STEADY, step_asymmetry_pct=6.0)
    truth = simulate_session(spec_of(walker), 1).truth[0]
    right = (truth.right_contact_s - truth.start_s)[2:5]
    left = (truth.end_s - truth.right_contact_s)[2:5]
    found = 100.0 * (right - left) / (0.5 * (right + left))
    np.testing.assert_allclose(found, 6.0, atol=1e-6)


def test_turns_curves_and_stops_are_told() -> None:
    legs = (straight(5), turn(2.5), straight(5), stop(2.0), curve(6, 15.0), straight(3))
    truth = simulate_session(spec_of(STEADY, legs), 2).truth[0]
    assert 2 <= truth.turning.sum() <= 4
    assert not truth.turning[truth.pass_number > 0].any()
    assert set(truth.pass_number) == {0, 1, 2, 3}
    longest = np.diff(truth.contact_s).max()
    assert longest > 2.0
    curved = truth.path_turn_deg[np.abs(truth.path_turn_deg - 15.0) < 1.5]
    assert curved.size >= 4
    total = truth.heading_deg[-1] - truth.heading_deg[0]
    assert total == pytest.approx(180.0 + 90.0, abs=0.5)


def test_pronation_and_turning_with_the_trunk_are_no_swing() -> None:
    still = Arm(swing_deg=0.0, swing_sd_deg=0.0, sideways_deg=0.0, tremble_deg=0.0)
    busy = replace(
        holding(still, "rack", swing_deg=0.0), pronation_range_deg=30.0, sideways_deg=0.0,
        tremble_deg=0.0, swing_sd_deg=0.0,
    )  # fmt: skip
    truth = simulate_session(spec_of(replace(STEADY, left_arm=busy)), 1).truth[0]
    assert truth.left_arm_swing_deg.max() < 0.01
    assert truth.right_arm_swing_deg[3] == pytest.approx(24.0, rel=0.01)


def test_held_arms_swing_as_asked() -> None:
    for pose in ("side", "rack", "bottoms_up", "overhead"):
        walker = replace(STEADY, left_arm=holding(Arm(), pose, swing_deg=4.0))
        truth = simulate_session(spec_of(walker), 1).truth[0]
        inner = truth.path_apart_s > 1.0
        assert truth.left_arm_swing_deg[inner].mean() == pytest.approx(4.0, abs=0.8)


def test_same_seed_same_session_other_seed_another() -> None:
    one, same, other = (simulate_session(random_client(2), seed) for seed in (4, 4, 5))
    np.testing.assert_array_equal(one.recordings[1].acc_mps2, same.recordings[1].acc_mps2)
    np.testing.assert_equal(
        *([asdict(row) for row in rows] for rows in (one.bout_rows, same.bout_rows))
    )
    assert one.recordings[1].acc_mps2.shape != other.recordings[1].acc_mps2.shape or (
        not np.array_equal(one.recordings[1].acc_mps2, other.recordings[1].acc_mps2)
    )


def test_mounting_turns_the_signals_and_nothing_else() -> None:
    plain = simulate_session(spec_of(STEADY), 3)
    mounting = (40.0, -100.0, 70.0)
    turned = simulate_session(spec_of(STEADY, mounting_deg=mounting), 3)
    to_sensor = Rotation.from_rotvec(np.deg2rad(mounting)).as_matrix()
    for before, after in zip(plain.recordings, turned.recordings, strict=True):
        np.testing.assert_allclose(before.acc_mps2 @ to_sensor, after.acc_mps2, atol=1e-5)
        np.testing.assert_allclose(before.gyr_radps @ to_sensor, after.gyr_radps, atol=1e-5)
    np.testing.assert_array_equal(
        plain.truth[0].sternum_yaw_range_deg, turned.truth[0].sternum_yaw_range_deg
    )
