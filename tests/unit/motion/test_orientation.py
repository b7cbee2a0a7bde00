"""The orientation filters on motions that are known in closed form."""

from __future__ import annotations

import subprocess
import sys
from dataclasses import replace

import numpy as np
import pytest
from motion_builder import (
    angle_between,
    recording_of,
    same_heading,
    smooth_turn,
    tilt_error,
    trunk_walk,
    turned,
    walk_acc,
)

from imucarry.basics.errors import SettingsError
from imucarry.basics.records import FloatArray, Recording
from imucarry.basics.settings import MotionSettings
from imucarry.motion import rotations
from imucarry.motion.orientation import FILTERS, estimate_orientation
from imucarry.motion.orientation import integrate as integration
from imucarry.motion.orientation.level import upright
from imucarry.motion.signals import low_pass

UP = np.array([0.0, 0.0, 1.0])
MOUNTINGS = {
    "as worn": np.array([1.0, 0, 0, 0]),
    "sloping": rotations.from_rotation_vector(np.deg2rad([0.0, 25.0, 0.0])),
    "on its side": rotations.from_rotation_vector(np.deg2rad([90.0, 0.0, 0.0])),
    "upside down": rotations.from_rotation_vector(np.deg2rad([180.0, 0.0, 0.0])),
    "askew": rotations.from_rotation_vector(np.array([1.1, -0.7, 2.0])),
}
# The filters of the library step by first-order Euler, and pull towards gravity
# with a gain of their own; ours is exact here but for its block means.
YAW_TOLERANCE_DEG = {"levelled": 0.01, "madgwick": 0.3, "mahony": 0.3}

# Madgwick's steps have one length whatever the error: it never quite comes to rest.
STILL_TOLERANCE_DEG = {"levelled": 1e-5, "madgwick": 0.05, "mahony": 1e-5}
REMOUNT_TOLERANCE_DEG = {"levelled": 1e-5, "madgwick": 0.3, "mahony": 1e-5}


def seconds(length_s: float, rate_hz: float) -> FloatArray:
    return np.arange(round(length_s * rate_hz)) / rate_hz


def world_turn_deg(quat: FloatArray) -> FloatArray:
    """How far each orientation has turned about the world's vertical since the first."""
    since = rotations.multiply(quat, rotations.conjugate(quat[0]))
    return np.rad2deg(np.unwrap(2 * np.arctan2(since[:, 3], since[:, 0])))


# --- known yaw in, same yaw out ----------------------------------------------------


@pytest.mark.parametrize("name", FILTERS)
@pytest.mark.parametrize("mounting", MOUNTINGS)
@pytest.mark.parametrize("yaw_deg", [90.0, -180.0, 360.0])
def test_yaw_out_is_yaw_in(name: str, mounting: str, yaw_deg: float) -> None:
    time_s = seconds(16, 50)
    yaw = smooth_turn(time_s, 6, 3, np.deg2rad(yaw_deg))
    quat = rotations.multiply(turned(UP, yaw), MOUNTINGS[mounting])
    got = estimate_orientation(recording_of(quat, 50), MotionSettings(filter=name))
    turn_deg = world_turn_deg(got.quat)
    assert abs(turn_deg[-1] - yaw_deg) < YAW_TOLERANCE_DEG[name]
    assert np.abs(turn_deg - np.rad2deg(yaw)).max() < YAW_TOLERANCE_DEG[name]
    assert np.rad2deg(tilt_error(got.quat, quat)).max() < YAW_TOLERANCE_DEG[name]


@pytest.mark.parametrize("name", FILTERS)
def test_every_filter_starts_upright_from_any_mounting(name: str) -> None:
    for mounting in MOUNTINGS.values():
        quat = np.tile(mounting, (200, 1))
        got = estimate_orientation(recording_of(quat, 100), MotionSettings(filter=name))
        assert np.rad2deg(tilt_error(got.quat, quat)).max() < STILL_TOLERANCE_DEG[name]


# --- closed forms ------------------------------------------------------------------


@pytest.mark.parametrize("rate_hz", [25.0, 50.0, 100.0, 200.0])
def test_constant_rate_about_a_tilted_axis(rate_hz: float) -> None:
    time_s = seconds(30, rate_hz)
    quat = rotations.multiply(
        turned(np.array([0.3, 0.2, 1.0]), np.deg2rad(40) * time_s), MOUNTINGS["askew"]
    )
    # A steady turn cannot be told from a bias by gravity alone if it never stops: the
    # bias is held to what the sheet of the sensor promises.
    settings = MotionSettings(bias_prior_degps=1e-4, rest_shortest_s=1e6)
    got = estimate_orientation(recording_of(quat, rate_hz), settings)
    assert np.rad2deg(angle_between(same_heading(got.quat, quat), quat)).max() < 0.02


@pytest.mark.parametrize("rate_hz", [25.0, 100.0])
@pytest.mark.parametrize("gyro_sample", ["instant", "mean_since_last"])
def test_coning_is_integrated(rate_hz: float, gyro_sample: str) -> None:
    """The axis itself goes round: a yaw that no single axis shows must come out right."""
    time_s = seconds(20, rate_hz)
    phase, tip = 2 * np.pi * 0.9 * time_s, np.deg2rad(10)
    vector = tip * np.stack([np.cos(phase), np.sin(phase), 0 * phase], axis=1)
    quat = rotations.from_rotation_vector(vector)
    recording = recording_of(quat, rate_hz)
    if gyro_sample == "instant":
        fine = recording_of(fine_cone(time_s, rate_hz, tip), rate_hz * FINE)
        recording = replace(recording, gyr_radps=fine.gyr_radps[FINE // 2 :: FINE].copy())
    estimated, _ = integration.integrate(
        recording.acc_mps2,
        recording.gyr_radps,
        rate_hz=rate_hz,
        block_rate_hz=10,
        gyro_sample=gyro_sample,
    )
    moved = rotations.multiply(rotations.conjugate(estimated[:1]), estimated)
    true = rotations.multiply(rotations.conjugate(quat[:1]), quat)
    # 18 rounds make 98 deg of yaw; between instants the course is interpolated, at
    # 28 samples a round (25 Hz) to 3e-4 of it.
    limit = 1e-6 if gyro_sample == "mean_since_last" else 0.03
    assert np.rad2deg(angle_between(moved, true)).max() < limit


FINE = 40


def fine_cone(time_s: FloatArray, rate_hz: float, tip: float) -> FloatArray:
    """The same cone, `FINE` times as dense and half a sample early: rates at instants."""
    fine_s = (np.arange(time_s.size * FINE) - FINE / 2 + 0.5) / (rate_hz * FINE)
    phase = 2 * np.pi * 0.9 * fine_s
    return rotations.from_rotation_vector(
        tip * np.stack([np.cos(phase), np.sin(phase), 0 * phase], axis=1)
    )


@pytest.mark.parametrize("rate_hz", [25.0, 50.0, 100.0, 200.0])
def test_a_walking_trunk_keeps_its_tilt_and_yaw(rate_hz: float) -> None:
    time_s = seconds(60, rate_hz)
    quat = rotations.multiply(trunk_walk(time_s), MOUNTINGS["sloping"])
    bias = np.deg2rad([0.5, -0.3, 0.4])
    recording = recording_of(quat, rate_hz, bias_radps=bias, acc_world_mps2=walk_acc(time_s))
    got = estimate_orientation(recording, MotionSettings())
    # Walking accelerations of 1.5 m/s^2 would tilt an unsmoothed vertical by 9 deg. A
    # recording that is cut off in mid-stride leaves up to 0.3 m/s of it in its last seconds.
    tilt_deg = np.rad2deg(tilt_error(got.quat, quat))
    assert tilt_deg[time_s < 50].max() < 0.06
    assert tilt_deg.max() < 0.35
    assert np.rad2deg(angle_between(same_heading(got.quat, quat), quat)).max() < 0.7


# --- bias --------------------------------------------------------------------------


@pytest.mark.parametrize("rate_hz", [25.0, 50.0, 100.0, 200.0])
@pytest.mark.parametrize("axis", [0, 1, 2])
@pytest.mark.parametrize("sign", [-1.0, 1.0])
def test_bias_is_found_from_rest(rate_hz: float, axis: int, sign: float) -> None:
    time_s = seconds(40, rate_hz)
    quat = rotations.multiply(trunk_walk(time_s, from_s=12), MOUNTINGS["askew"])
    bias = sign * np.deg2rad(1.5) * np.eye(3)[axis]
    recording = recording_of(
        quat, rate_hz, bias_radps=bias, acc_world_mps2=walk_acc(time_s, from_s=12)
    )
    got = estimate_orientation(recording, MotionSettings())
    assert got.rest
    assert np.rad2deg(np.abs(got.bias_radps - bias)).max() < 0.02
    assert np.rad2deg(got.bias_sd_radps) < 0.1


@pytest.mark.parametrize("axis", [0, 1, 2])
@pytest.mark.parametrize("sign", [-1.0, 1.0])
def test_bias_is_found_from_the_drift_of_gravity_without_rest(axis: int, sign: float) -> None:
    """No rest at all: a wrong sign here cannot hide behind it."""
    time_s = seconds(120, 50)
    course = [smooth_turn(time_s, start, 15, np.deg2rad(80)) for start in (10, 45, 80)]
    quat = rotations.multiply(
        rotations.multiply(
            turned(np.array([1.0, 0, 0]), course[0]), turned(np.array([0.0, 1, 0]), course[1])
        ),
        turned(np.array([0.3, 0.0, 1.0]), course[2]),
    )
    bias = sign * np.deg2rad(0.8) * np.eye(3)[axis]
    recording = recording_of(quat, 50, bias_radps=bias)
    got = estimate_orientation(recording, MotionSettings(rest_shortest_s=1e6))
    assert got.rest == ()
    assert np.rad2deg(np.abs(got.bias_radps - bias)).max() < 0.1
    assert np.rad2deg(tilt_error(got.quat, quat)).max() < 0.3


def test_a_walk_without_rest_says_how_little_it_knows_about_the_vertical() -> None:
    time_s = seconds(60, 50)
    quat = trunk_walk(time_s, from_s=-5)
    bias = np.deg2rad([0.6, -0.6, 0.6])
    acc = walk_acc(time_s, from_s=-5)
    recording = recording_of(quat, 50, bias_radps=bias, acc_world_mps2=acc)
    got = estimate_orientation(recording, MotionSettings())
    assert got.rest == ()
    error_degps = np.rad2deg(np.abs(got.bias_radps - bias))
    assert error_degps[:2].max() < 0.1
    assert error_degps[2] < 2 * np.rad2deg(got.bias_sd_radps)
    assert np.rad2deg(got.bias_sd_radps) > 0.5


def walk_with_a_turn(
    length_s: float, bias_radps: FloatArray, more_mps2: FloatArray | None = None
) -> Recording:
    """A trunk that leans, walks all the time, and turns round once; more acceleration in the room.

    Seldom does a recording hold less: no rest, and one turn that none takes back.
    """
    time_s = seconds(length_s, 50)
    lean = turned(np.array([0.0, 1.0, 0.0]), np.full(time_s.size, np.deg2rad(3)))
    half_turn = smooth_turn(time_s, length_s / 2 - 1.5, 3, np.pi)
    quat = rotations.multiply(rotations.about_vertical(half_turn), lean)
    return recording_of(
        rotations.multiply(quat, trunk_walk(time_s, from_s=-5)),
        50,
        bias_radps=bias_radps,
        acc_world_mps2=walk_acc(time_s, from_s=-5) + (0.0 if more_mps2 is None else more_mps2),
    )


@pytest.mark.parametrize("offset_mps2", [[0.15, 0.0, 0.0], [0.0, 0.15, 0.0], [0.1, -0.1, 0.1]])
@pytest.mark.parametrize("length_s", [20, 30, 60])
def test_an_offset_that_turns_with_its_wearer_is_no_rate_about_the_vertical(
    length_s: int, offset_mps2: list[float]
) -> None:
    bias = np.deg2rad([0.2, -0.1, 0.1])
    walk = walk_with_a_turn(length_s, bias)
    got = estimate_orientation(
        replace(walk, acc_mps2=walk.acc_mps2 + np.array(offset_mps2)), MotionSettings()
    )
    # Nothing is to be seen about the vertical; what is (0.2 deg/s) needs half a minute.
    assert np.rad2deg(np.abs(got.bias_radps - bias)).max() < 0.2


@pytest.mark.parametrize("length_s", [20, 30, 60])
def test_a_short_uneven_walk_knows_how_little_it_knows(length_s: int) -> None:
    """Uneven steps look like drift: twelve unknowns explain all of it, and would look certain."""
    bias = np.deg2rad([0.2, -0.1, 0.1])
    misses = []
    for seed in range(20):
        noise = np.random.default_rng(seed).normal(size=(length_s * 50, 3)) * [4.0, 4.0, 1.0]
        uneven = low_pass(noise, rate_hz=50, cutoff_hz=0.2)
        got = estimate_orientation(walk_with_a_turn(length_s, bias, uneven), MotionSettings())
        misses.append(np.abs(got.bias_radps - bias).max() / got.bias_sd_radps)
    # Three axes: 2 standard errors hold all of them in about 87 of 100.
    assert np.mean(np.array(misses) < 2) >= 0.75
    assert max(misses) < 4


def test_rest_knows_the_bias_better_than_motion_alone() -> None:
    time_s = seconds(60, 50)
    quat = trunk_walk(time_s, from_s=15)
    recording = recording_of(quat, 50, acc_world_mps2=walk_acc(time_s, from_s=15))
    with_rest = estimate_orientation(recording, MotionSettings())
    without = estimate_orientation(recording, MotionSettings(rest_shortest_s=1e6))
    assert with_rest.bias_sd_radps < without.bias_sd_radps


def test_a_bias_that_moves_from_rest_to_rest_is_known_that_much_worse() -> None:
    time_s = seconds(120, 50)
    still = np.tile([1.0, 0.0, 0.0, 0.0], (time_s.size, 1))
    walking = (time_s > 15) & (time_s < 105)
    quat = np.where(walking[:, None], trunk_walk(time_s, from_s=15), still)
    acc = walk_acc(time_s, from_s=15) * walking[:, None]
    steady = recording_of(quat, 50, acc_world_mps2=acc)
    warming = np.deg2rad(0.4) * (time_s / 120 - 0.5)[:, None] * [0.0, 0.0, 1.0]
    moved = replace(steady, gyr_radps=steady.gyr_radps + warming)
    sd = [
        np.rad2deg(estimate_orientation(item, MotionSettings()).bias_sd_radps)
        for item in (steady, moved)
    ]
    # 15 s at either end are 0.35 deg/s apart: half of that to either side of their mean.
    assert sd[0] < 0.05
    assert sd[1] == pytest.approx(0.175, abs=0.03)


def test_a_slow_steady_turn_is_not_taken_for_a_bias() -> None:
    time_s = seconds(60, 50)
    turn = np.deg2rad(3.0) * np.clip(time_s - 30, 0, 8)
    quat = turned(np.array([0.0, 0, 1]), turn)
    bias = np.deg2rad([0.2, -0.4, 0.3])
    got = estimate_orientation(recording_of(quat, 50, bias_radps=bias), MotionSettings())
    assert np.rad2deg(np.abs(got.bias_radps - bias)).max() < 0.01


def test_a_large_bias_is_taken_out_and_reported() -> None:
    quat = trunk_walk(seconds(40, 50), from_s=12)
    recording = recording_of(quat, 50, bias_radps=np.deg2rad([0.0, 5.0, 0.0]))
    got = estimate_orientation(recording, MotionSettings())
    assert [notice.code for notice in got.notices] == ["large_gyro_bias"]
    assert np.rad2deg(tilt_error(got.quat, quat)).max() < 0.1


# --- frames, gaps, edges -----------------------------------------------------------


@pytest.mark.parametrize("name", FILTERS)
def test_remounting_the_sensor_changes_nothing(name: str) -> None:
    time_s = seconds(12, 50)
    quat, acc = trunk_walk(time_s), walk_acc(time_s)
    plain = recording_of(quat, 50, acc_world_mps2=acc)
    mounting = MOUNTINGS["askew"]
    other = recording_of(rotations.multiply(quat, mounting), 50, acc_world_mps2=acc)
    settings = MotionSettings(filter=name)
    first = estimate_orientation(plain, settings).quat
    second = estimate_orientation(other, settings).quat
    back = rotations.multiply(second, rotations.conjugate(mounting))
    assert (
        np.rad2deg(angle_between(same_heading(back, first), first)).max()
        < REMOUNT_TOLERANCE_DEG[name]
    )


def test_the_last_samples_are_as_good_as_the_first_at_odd_lengths() -> None:
    for n in (1, 2, 5, 9, 10, 11, 19, 25, 1003):
        quat = np.tile(MOUNTINGS["askew"], (n, 1))
        got = estimate_orientation(recording_of_still(quat), MotionSettings())
        assert got.quat.shape == (n, 4)
        assert np.allclose(np.linalg.norm(got.quat, axis=1), 1, atol=1e-12)
        assert np.rad2deg(tilt_error(got.quat, quat)).max() < 1e-3


def recording_of_still(quat: FloatArray) -> Recording:
    two = recording_of(np.concatenate([quat, quat[-1:]]), 100)
    n = quat.shape[0]
    return replace(
        two,
        time_s=two.time_s[:n].copy(),
        acc_mps2=two.acc_mps2[:n].copy(),
        gyr_radps=two.gyr_radps[:n].copy(),
    )


def test_chunks_leave_no_trace(monkeypatch: pytest.MonkeyPatch) -> None:
    time_s = seconds(40, 50)
    recording = recording_of(trunk_walk(time_s), 50, acc_world_mps2=walk_acc(time_s))
    whole = estimate_orientation(recording, MotionSettings()).quat
    monkeypatch.setattr(integration, "_CHUNK", 37)
    assert np.allclose(estimate_orientation(recording, MotionSettings()).quat, whole, atol=1e-11)


def test_a_long_gap_parts_the_recording_and_spoils_neither_part() -> None:
    """In the gap the sensor was turned over; the samples that fill it say nothing true."""
    rate_hz = 50
    time_s = seconds(60, rate_hz)
    quat = trunk_walk(time_s, from_s=8)
    after = time_s >= 32
    quat[after] = rotations.multiply(quat[after], MOUNTINGS["upside down"])
    recording = recording_of(quat, rate_hz, bias_radps=np.deg2rad([0.4, 0.2, -0.3]))
    hole = slice(28 * rate_hz, 34 * rate_hz)
    acc, gyr = recording.acc_mps2.copy(), recording.gyr_radps.copy()
    acc[hole], gyr[hole] = [3.0, -7.0, 1.0], 0.0
    filled = replace(recording, acc_mps2=acc, gyr_radps=gyr, gaps=((28 * rate_hz, 34 * rate_hz),))
    got = estimate_orientation(filled, MotionSettings())
    outside = np.ones(time_s.size, dtype=bool)
    outside[hole] = False
    assert np.rad2deg(tilt_error(got.quat, quat))[outside].max() < 0.3
    assert [notice.code for notice in got.notices] == ["levelled_in_parts"]
    assert np.rad2deg(np.abs(got.bias_radps - np.deg2rad([0.4, 0.2, -0.3]))).max() < 0.1


def test_a_short_gap_has_no_weight_and_parts_nothing() -> None:
    time_s = seconds(40, 50)
    quat = trunk_walk(time_s, from_s=8)
    recording = recording_of(quat, 50)
    acc = recording.acc_mps2.copy()
    acc[1000:1040] = [40.0, 0.0, 0.0]
    got = estimate_orientation(
        replace(recording, acc_mps2=acc, gaps=((1000, 1040),)), MotionSettings()
    )
    assert got.notices == ()
    assert np.rad2deg(tilt_error(got.quat, quat)).max() < 0.1


@pytest.mark.parametrize("bad", [np.nan, np.inf])
@pytest.mark.parametrize("name", ["acc_mps2", "gyr_radps"])
def test_nan_is_refused_at_the_door(bad: float, name: str) -> None:
    recording = recording_of(np.tile(MOUNTINGS["as worn"], (50, 1)), 50)
    values = getattr(recording, name).copy()
    values[17, 1] = bad
    with pytest.raises(ValueError, match="not finite"):
        replace(recording, **{name: values})


def test_an_unknown_filter_is_refused() -> None:
    with pytest.raises(SettingsError, match="levelled"):
        MotionSettings(filter="magic")


def test_an_empty_recording_is_refused() -> None:
    empty = Recording("chest", 100.0, np.zeros(0), np.zeros((0, 3)), np.zeros((0, 3)))
    with pytest.raises(ValueError, match="without samples"):
        estimate_orientation(empty, MotionSettings())


def test_ahrs_is_imported_only_when_chosen() -> None:
    code = (
        "import sys, imucarry.motion.orientation, imucarry.motion.clocks\n"
        "heavy = {'ahrs', 'scipy.signal', 'scipy.stats', 'pandas'} & set(sys.modules)\n"
        "sys.exit(f'imported: {heavy}' if heavy else 0)"
    )
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0


@pytest.mark.parametrize("gap_s", [(60, 4000), (0, 3940), (30, 3970)])
def test_hours_without_a_usable_sample_leave_no_nan(gap_s: tuple[int, int]) -> None:
    """A sensor that slept through: no usable sample is near, yet the vertical goes on."""
    rate_hz = 20
    truth = trunk_walk(seconds(4000.0, rate_hz))
    gap = (gap_s[0] * rate_hz, gap_s[1] * rate_hz)
    recording = recording_of(truth, rate_hz, gaps=(gap,))
    acc = recording.acc_mps2.copy()
    acc[gap[0] : gap[1]] = 0.0
    quat = estimate_orientation(replace(recording, acc_mps2=acc), MotionSettings()).quat
    assert np.isfinite(quat).all()
    usable = np.ones(len(truth), dtype=bool)
    usable[gap[0] : gap[1]] = False
    assert np.rad2deg(tilt_error(quat[usable], truth[usable])).max() < 1.0


def test_vertical_without_length_is_that_of_the_block_before() -> None:
    known = np.array([[0.0, 1.0, 0.0], [0.0, 0.0, 2.0]])
    sparse = np.array([[0.0, 0, 0], known[0], [0, 0, 0], known[1], [1e-200, 0, 0]])
    filled = known[[0, 0, 0, 1, 1]]
    np.testing.assert_array_equal(upright(sparse.T), upright(filled.T))
    np.testing.assert_array_equal(upright(np.zeros((3, 3))), upright(np.tile(UP, (3, 1)).T))
