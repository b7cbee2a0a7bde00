"""Strides and what is left out, on a trunk whose contacts and path are known."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from stepping_trunk import stepping, told_contacts

from imucarry.basics.records import DROP_REASONS, ArmMotion, Contacts
from imucarry.basics.settings import WalkSettings
from imucarry.walk.contacts import find_contacts
from imucarry.walk.passes import find_passes
from imucarry.walk.strides import cut_strides

SETTINGS = WalkSettings()
STRIDE_S = 1.1


def cut(walk, arms=None, settings=SETTINGS, contacts=None):
    """Return the strides of a walk, at the told contacts unless others are given."""
    if contacts is None:
        number = np.zeros(walk.contact_s.size, dtype=np.int64)
        contacts = Contacts(walk.contact_s, walk.is_left, number)
    _, contacts = find_passes(walk.trunk, contacts, settings)
    return cut_strides(walk.trunk, contacts, arms or {}, settings)


def arm_of(time_s, bad=(0, 0), clipped=(0, 0)):
    """Return a motionless forearm with a gap and clipped samples."""
    usable, at_end = np.ones(time_s.size, dtype=bool), np.zeros(time_s.size, dtype=bool)
    usable[slice(*bad)] = False
    at_end[slice(*clipped)] = True
    return ArmMotion(
        side="left",
        time_s=time_s.copy(),
        rate_hz=100.0,
        quat=np.tile([1.0, 0.0, 0.0, 0.0], (time_s.size, 1)),
        gyr_world_radps=np.zeros((time_s.size, 3)),
        acc_world_mps2=np.zeros((time_s.size, 3)),
        usable=usable,
        clipped=at_end,
    )


def test_a_stride_is_left_to_left():
    walk = stepping(told_contacts(n=21))
    strides = cut(walk)
    left = walk.contact_s[walk.is_left]
    np.testing.assert_allclose(strides.start_s, left[:-1])
    np.testing.assert_allclose(strides.end_s, left[1:])
    np.testing.assert_allclose(strides.right_contact_s, walk.contact_s[~walk.is_left])
    # left step: right contact to left contact; right step: left contact to right contact
    np.testing.assert_allclose(strides.left_step_time_s, strides.end_s - strides.right_contact_s)
    np.testing.assert_allclose(strides.right_step_time_s + strides.left_step_time_s, STRIDE_S)
    assert strides.stride_in_pass.tolist() == list(range(1, 11))
    assert set(strides.drop) == set(DROP_REASONS)


@pytest.mark.parametrize("trim", [0, 1, 2])
def test_the_first_and_the_last_strides_are_left_out(trim):
    strides = cut(stepping(told_contacts(n=21)), settings=WalkSettings(trim_strides=trim))
    n_strides = strides.start_s.size
    assert strides.kept_timing.sum() == n_strides - 2 * trim
    assert np.flatnonzero(strides.drop["start"]).tolist() == list(range(trim))
    assert strides.drop["stop"].sum() == trim


def test_no_turning_stride_is_kept_and_hardly_a_straight_one_lost():
    contact_s = told_contacts(n=61)
    time_s = np.arange(round((contact_s[-1] + 3.0) * 100.0)) / 100.0
    path = 180.0 * np.clip((time_s - 19.0) / (2 * STRIDE_S), 0.0, 1.0)
    strides = cut(stepping(contact_s, yaw_deg=path))
    touched = (strides.start_s < 19.0 + 2 * STRIDE_S) & (strides.end_s > 19.0)
    assert not strides.kept_yaw[touched].any()
    assert not strides.kept_timing[touched].any()
    # Away from turn, start and stop (more than one stride) every stride is kept.
    away = (strides.end_s < 19.0 - 1.3 * STRIDE_S) | (strides.start_s > 19.0 + 3.3 * STRIDE_S)
    away[[0, -1]] = False
    assert strides.kept_yaw[away].all()
    assert (strides.pass_number[strides.turning] == 0).all()
    assert (strides.stride_in_pass[strides.turning] == 0).all()


def test_nothing_is_left_out_for_an_extreme_value():
    step_s = np.full(30, 0.55)
    step_s[14:16] = 0.8  # a hesitation of half a second
    walk = stepping(3.0 + np.cumsum(step_s))
    strides = cut(walk)
    assert strides.kept_timing[1:-1].all()


def test_a_stride_over_a_gap_is_left_out_and_the_bout_stays():
    walk = stepping(told_contacts(n=41), gap_s=(10.0, 10.3))
    strides = cut(walk)
    touched = (strides.start_s < 10.3) & (strides.end_s > 10.0)
    np.testing.assert_array_equal(strides.drop["gap"], touched)
    np.testing.assert_array_equal(strides.kept_yaw[1:-1], ~touched[1:-1])
    assert strides.pass_number.max() == 1


def test_clipping_spoils_yaw_and_not_timing():
    walk = stepping(told_contacts(n=21))
    clipped = np.zeros(walk.trunk.time_s.size, dtype=bool)
    clipped[800] = True
    strides = cut(replace(walk, trunk=replace(walk.trunk, clipped=clipped)))
    hit = strides.drop["clipped"]
    assert hit.sum() == 1
    assert strides.kept_timing[hit].all()
    assert not strides.kept_yaw[hit].any()


@pytest.mark.parametrize("missed", [8, 9])
def test_a_missed_contact_is_said(missed):
    walk = stepping(told_contacts(n=21))
    keep = np.arange(21) != missed
    number = np.zeros(20, dtype=np.int64)
    strides = cut(walk, contacts=Contacts(walk.contact_s[keep], walk.is_left[keep], number))
    around = (strides.start_s < walk.contact_s[missed]) & (strides.end_s > walk.contact_s[missed])
    assert around.sum() == 1
    np.testing.assert_array_equal(strides.drop["contact_missed"], around)
    assert np.isnan(strides.right_contact_s[around]).all()
    assert not strides.kept_timing[around].any()


def test_no_stride_reaches_over_a_stop():
    first, second = told_contacts(n=13), told_contacts(n=13, start_s=14.0)
    strides = cut(stepping(np.concatenate([first, second])))
    assert (strides.end_s - strides.start_s).max() < 1.5
    assert strides.pass_number.max() == 2
    assert strides.drop["start"].sum() == strides.drop["stop"].sum() == 2


def test_each_arm_has_its_own_kept_strides():
    walk = stepping(told_contacts(n=41))
    time_s = walk.trunk.time_s
    arms = {"left": arm_of(time_s, bad=(1000, 1040), clipped=(1500, 1501))}
    strides = cut(walk, arms)
    assert not strides.kept_right_arm.any()  # no sensor
    gone = strides.kept_timing & ~strides.kept_left_arm
    spoilt = [(strides.start_s < t) & (strides.end_s > t) for t in (10.2, 15.0)]
    np.testing.assert_array_equal(gone, (spoilt[0] | spoilt[1]) & strides.kept_timing)
    # The arms' reasons are told apart from the chest's, which has neither gap nor clipping.
    np.testing.assert_array_equal(strides.arm_drop["gap"], spoilt[0])
    np.testing.assert_array_equal(strides.arm_drop["clipped"], spoilt[1])
    assert strides.arm_drop["no_sensor"].all()  # the right wrist's
    assert not any(strides.drop[why].any() for why in strides.arm_drop)


def test_a_recording_that_ends_early_keeps_no_arm_beyond_it():
    walk = stepping(told_contacts(n=41))
    time_s = walk.trunk.time_s
    strides = cut(walk, {"left": arm_of(time_s), "right": arm_of(time_s[:1500])})
    np.testing.assert_array_equal(strides.arm_drop["no_sensor"], strides.end_s > time_s[1499])
    assert not strides.kept_right_arm[strides.end_s > 15.0].any()
    assert strides.kept_right_arm.any()


def test_a_gap_of_the_chest_leaves_the_arms_as_they_are():
    walk = stepping(told_contacts(n=41), gap_s=(10.0, 10.12))
    strides = cut(walk, {"left": arm_of(walk.trunk.time_s), "right": arm_of(walk.trunk.time_s)})
    touched = strides.drop["gap"]
    assert touched.any()
    assert not strides.kept_timing[touched].any()
    assert strides.kept_left_arm[touched].all()
    assert not any(flags.any() for flags in strides.arm_drop.values())


def test_found_contacts_give_the_same_strides():
    walk = stepping(told_contacts(n=31))
    strides = cut(walk, contacts=find_contacts(walk.trunk))
    assert strides.start_s.size == 15
    assert strides.kept_yaw.sum() == 13


def test_no_contacts_no_strides():
    strides = cut(stepping(np.empty(0), length_s=5.0))
    assert strides.start_s.size == strides.kept_yaw.size == 0
