"""Sternum yaw of each stride, against a thorax that moves as told."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from moving_body import (
    course,
    first_rows,
    frame_of,
    multiply,
    record,
    strides_of,
    thorax_quat,
    turn,
    walking,
)

from imucarry.basics.records import Window
from imucarry.basics.settings import WalkSettings
from imucarry.walk.trunk import trunk_motion
from imucarry.walk.yaw import _floor, stride_yaw

SETTINGS = WalkSettings()
MOUNT = multiply(turn((0, 1, 0), -15.0), turn((0.6, 0.0, 0.8), 70.0))
WALK = course(14)
KEPT = slice(1, -1)


def trunk_of(yaw_deg, lean_deg=0.0, pitch_deg=0.0, levelled_in="quiet_standing", walk=WALK):
    ones = walking(walk)
    angles = [np.radians(np.asarray(item) * ones) for item in (yaw_deg, lean_deg, pitch_deg)]
    quat = thorax_quat(*angles)
    recording, orientation = record("chest", quat, 0 * quat[:, 1:], walk.time_s, MOUNT)
    window = Window(0.5, float(walk.time_s[-1]))
    frame = frame_of(MOUNT, levelled_in)
    return trunk_motion(recording, orientation, frame, window, SETTINGS)


def swing_deg(phase, amplitude=5.0, at=0.2):
    return amplitude * np.cos(2 * np.pi * (phase - at))


def test_a_pure_swing_is_read_off():
    yaw = stride_yaw(trunk_of(swing_deg(WALK.phase)), strides_of(WALK))
    assert np.degrees(yaw.range_rad[KEPT]) == pytest.approx(10.0, abs=0.02)
    assert np.degrees(yaw.locked_rad[KEPT]) == pytest.approx(10.0, abs=0.02)
    assert np.degrees(yaw.amplitude_rad[KEPT]) == pytest.approx(5.0, abs=0.01)
    assert np.degrees(yaw.phase_rad[KEPT]) == pytest.approx(72.0, abs=0.2)
    stride_s = np.diff(WALK.contact_s)[KEPT]
    peak_degps = np.degrees(yaw.peak_rate_radps[KEPT])
    assert peak_degps == pytest.approx(5.0 * 2 * np.pi / stride_s, rel=0.01)
    assert np.degrees(yaw.floor_rad[KEPT]).max() < 0.05
    assert yaw.curve_rad.shape == (14, 101)


def test_step_rate_counts_as_locked_and_the_third_harmonic_does_not():
    phase = WALK.phase
    extra = np.cos(6 * np.pi * phase)
    yaw = stride_yaw(
        trunk_of(swing_deg(phase) + 2.0 * np.cos(4 * np.pi * phase) + extra),
        strides_of(WALK),
    )
    one = np.linspace(0, 1, 2001)
    locked = np.ptp(swing_deg(one) + 2.0 * np.cos(4 * np.pi * one))
    assert np.degrees(yaw.locked_rad[KEPT]) == pytest.approx(locked, abs=0.03)
    whole = np.ptp(swing_deg(one) + 2.0 * np.cos(4 * np.pi * one) + np.cos(6 * np.pi * one))
    assert np.degrees(yaw.range_rad[KEPT]) == pytest.approx(whole, abs=0.05)


def test_straight_strides_beside_a_half_turn_are_untouched():
    turned = 90.0 * (1.0 + np.tanh((WALK.time_s - WALK.contact_s[7]) / 0.5))
    quat = thorax_quat(np.radians(turned + swing_deg(WALK.phase)), 0 * turned, 0 * turned)
    recording, orientation = record("chest", quat, 0 * quat[:, 1:], WALK.time_s, MOUNT)
    trunk = trunk_motion(
        recording, orientation, frame_of(MOUNT), Window(0.0, WALK.time_s[-1]), SETTINGS
    )
    yaw = stride_yaw(trunk, strides_of(WALK))
    straight = np.r_[1:5, 10:13]  # less than 2 deg of the turn is in each
    assert np.degrees(yaw.range_rad[straight]) == pytest.approx(10.0, abs=0.3)


def test_strides_in_a_turn_have_no_yaw():
    turning = np.zeros(14, dtype=bool)
    turning[6:8] = True
    yaw = stride_yaw(trunk_of(swing_deg(WALK.phase)), strides_of(WALK, turning=turning))
    assert np.flatnonzero(np.isnan(yaw.range_rad)).tolist() == [6, 7]
    assert np.isnan(yaw.phase_rad[6:8]).all()
    assert np.isfinite(yaw.lean_rad[6:8]).all()


def test_a_gap_leaves_its_own_stride_undefined_and_no_other():
    trunk = trunk_of(swing_deg(WALK.phase))
    usable = trunk.usable.copy()
    jump = trunk.yaw_rad.copy()
    hole = (trunk.time_s > WALK.contact_s[6] + 0.3) & (trunk.time_s < WALK.contact_s[6] + 0.6)
    usable[hole] = False
    jump[trunk.time_s > WALK.contact_s[6] + 0.6] += np.radians(25.0)
    yaw = stride_yaw(replace(trunk, usable=usable, yaw_rad=jump), strides_of(WALK))
    assert np.flatnonzero(np.isnan(yaw.range_rad)).tolist() == [6]
    others = np.r_[1:6, 7:13]
    assert np.degrees(yaw.range_rad[others]) == pytest.approx(10.0, abs=0.1)


def test_lean_and_pitch_are_means_against_standing():
    lean = 2.0 + 4.0 * np.cos(2 * np.pi * WALK.phase)
    yaw = stride_yaw(trunk_of(0.0, lean, 5.0), strides_of(WALK))
    assert np.degrees(yaw.lean_rad[KEPT]) == pytest.approx(2.0, abs=0.02)
    assert np.degrees(yaw.lean_range_rad[KEPT]) == pytest.approx(8.0, abs=0.02)
    assert np.degrees(yaw.pitch_rad[KEPT]) == pytest.approx(5.0, abs=0.02)
    assert np.degrees(yaw.range_rad[KEPT]).max() < 0.01


def test_without_standing_lean_and_pitch_are_missing():
    yaw = stride_yaw(trunk_of(0.0, 3.0, 3.0, "bout_mean"), strides_of(WALK))
    assert np.isnan(yaw.lean_rad).all()
    assert np.isnan(yaw.pitch_rad).all()
    assert np.isfinite(yaw.lean_range_rad[KEPT]).all()


def test_what_is_not_locked_shows_as_floor():
    # 0.7 cycles a stride: no harmonic of the stride
    loose = 1.0 * np.cos(2 * np.pi * 0.7 * WALK.phase)
    yaw = stride_yaw(trunk_of(loose), strides_of(WALK))
    kept = np.degrees(yaw.range_rad[KEPT])
    floor = np.degrees(yaw.floor_rad[KEPT])
    assert np.median(floor) == pytest.approx(np.median(kept), rel=0.35)
    assert np.isnan(yaw.floor_rad[[0, -1]]).all()


def test_too_few_strides_have_no_floor():
    few = course(4)
    yaw = stride_yaw(trunk_of(swing_deg(few.phase), walk=few), strides_of(few))
    assert np.isnan(yaw.floor_rad).all()
    assert np.isfinite(yaw.range_rad).all()


def test_no_strides():
    yaw = stride_yaw(trunk_of(0.0), first_rows(strides_of(WALK), 0))
    assert yaw.range_rad.shape == (0,)
    assert yaw.curve_rad.shape == (0, 101)


def test_the_floor_is_the_same_for_few_strides_and_for_many():
    rng = np.random.default_rng(5)
    shape = np.sin(np.linspace(0.0, 2.0 * np.pi, 101))

    def usual_floor(n_strides, n_walks):
        sizes = rng.standard_normal((n_walks, n_strides, 1))
        kept = np.ones(n_strides, dtype=bool)
        floors = [_floor(curves, kept) for curves in sizes * shape]
        return np.sqrt(np.mean(np.square(floors)))

    # 9,000 strides of one spread each: two standard errors of their difference are 2.5 %.
    assert usual_floor(3, 3000) == pytest.approx(usual_floor(300, 30), rel=0.03)
