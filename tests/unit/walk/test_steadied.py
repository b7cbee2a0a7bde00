"""Contacts of a trunk that pitches or rolls with its steps: a sensor above the hips."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from stepping_trunk import stepping, told_contacts

from imucarry.basics.records import Contacts
from imucarry.walk.contacts import (
    find_all_contacts,
    find_contacts,
    most_alike_steps,
    n_alike_steps,
    steadied_side_margin,
)
from imucarry.walk.steadied import forward_lead, readings, steadied

STEP_S = 0.55
LEVER_M = 0.3
WALK = stepping(told_contacts(step_s=STEP_S, n=30))
PITCH_MPS2 = 3.5  # more than the push of the steps
ROLL_MPS2 = 2.0  # more than the sway


def turning(*, pitch_mps2=0.0, roll_mps2=0.0, sign=1.0):
    """Return the walk's trunk, pitched and rolled at 0.3 m below the sensor by so much.

    ``sign`` -1: the sensor is taken to face the other way.
    """
    trunk = WALK.trunk
    on = np.clip((trunk.time_s - 2.5) / 0.5, 0, 1) * np.clip((19.5 - trunk.time_s) / 0.5, 0, 1)
    phase = np.pi * (trunk.time_s - WALK.contact_s[0]) / STEP_S  # pi a step
    rate = np.pi / STEP_S
    gyr = np.zeros((trunk.time_s.size, 3))
    gyr[:, 0] = roll_mps2 / LEVER_M / rate * np.cos(phase) * on
    gyr[:, 1] = -pitch_mps2 / LEVER_M / (2 * rate) * np.cos(2 * phase) * on
    turns = np.gradient(gyr, trunk.time_s, axis=0)
    acc = trunk.acc_mps2.copy()
    acc[:, 0] += LEVER_M * turns[:, 1]
    acc[:, 1] -= LEVER_M * turns[:, 0]
    acc[:, :2] *= sign
    gyr[:, :2] *= sign
    return replace(trunk, acc_mps2=acc, gyr_radps=gyr)


def sides_right(contacts):
    """Return the share of told contacts that a found one of the same side lies next to."""
    if not contacts.time_s.size:
        return 0.0
    apart = np.abs(contacts.time_s[:, None] - WALK.contact_s)
    nearest = apart.argmin(axis=0)
    near = apart[nearest, np.arange(WALK.contact_s.size)] < 0.15
    return float(np.mean(near & (contacts.is_left[nearest] == WALK.is_left)))


def test_pitch_and_roll_are_taken_out():
    trunk = turning(pitch_mps2=PITCH_MPS2, roll_mps2=ROLL_MPS2)
    found = steadied(trunk.acc_mps2, trunk.gyr_radps, trunk.rate_hz)
    # What is quicker than a trunk, as where the pitching starts, stays.
    inside = (trunk.time_s > 4.0) & (trunk.time_s < 18.0)
    np.testing.assert_allclose(found[inside], WALK.trunk.acc_mps2[inside], atol=0.25)


def test_a_trunk_that_pitches_against_the_steps_keeps_its_contacts():
    trunk = turning(pitch_mps2=PITCH_MPS2)
    assert forward_lead(WALK.trunk.acc_mps2, 100.0) > 0.5
    assert forward_lead(trunk.acc_mps2, 100.0) < -0.3
    assert sides_right(find_contacts(trunk)) < 0.5, "as the sensor has it, it is no walk"
    (found,) = find_all_contacts([trunk])
    assert sides_right(found) == 1.0
    assert found.notices == ()


def test_one_such_bout_among_others():
    found = find_all_contacts([WALK.trunk, None, turning(pitch_mps2=PITCH_MPS2), WALK.trunk])
    assert [round(sides_right(found[k]), 6) for k in (0, 2, 3)] == [1.0, 1.0, 1.0]
    assert found[1].time_s.size == 0


def test_a_trunk_that_leads_is_left_alone():
    trunks = [WALK.trunk, turning(pitch_mps2=-PITCH_MPS2)]
    read = readings(trunks)
    assert [len(ways) for ways in read] == [1, 1]
    assert [way is trunk for (way,), trunk in zip(read, trunks, strict=True)] == [True, True]
    assert readings([]) == []


def test_contacts_stay_where_the_likelier_reading_shows_fewer():
    # The sensor's turning does not belong to its motion: taken out, it hides the steps.
    trunk = turning(pitch_mps2=2.5)
    acc = WALK.trunk.acc_mps2.copy()
    acc[:, 0] = 0.8 * trunk.acc_mps2[:, 0]
    gyr = np.roll(trunk.gyr_radps, 13, axis=0)  # 0.13 s
    trunk = replace(trunk, acc_mps2=acc, gyr_radps=gyr)
    ((first, *others),) = readings([trunk])
    assert find_contacts(first).time_s.size == 0
    assert len(others) == 2
    (found,) = find_all_contacts([trunk])
    assert sides_right(found) == 1.0


def test_few_steps_more_do_not_speak_against_the_likelier_reading():
    fewer = stepping(told_contacts(step_s=STEP_S, n=26)).trunk
    none = stepping(told_contacts(step_s=STEP_S, n=4)).trunk
    assert n_alike_steps(most_alike_steps([fewer, WALK.trunk])) < n_alike_steps(
        find_contacts(WALK.trunk)
    )
    found = most_alike_steps([none, fewer, WALK.trunk])
    np.testing.assert_array_equal(found.time_s, find_contacts(fewer).time_s)
    assert most_alike_steps([none]).time_s.size < 8


def test_a_limp_is_counted_by_the_steps_of_the_same_foot():
    limp_s = np.cumsum(np.tile([0.45, 0.65], 10))
    whole, holed = (
        Contacts(
            time_s=times, is_left=np.arange(times.size) % 2 == 0, pass_number=np.zeros(times.size)
        )
        for times in (limp_s, np.delete(limp_s, [5, 10]))
    )
    assert n_alike_steps(whole) == 17
    assert n_alike_steps(holed) < 12


def test_a_sensor_that_is_stated_the_wrong_way_round_has_its_contacts():
    # `chest_backwards` tells that the sides are exchanged.
    (found,) = find_all_contacts([turning(sign=-1.0)])
    assert found.time_s.size == WALK.contact_s.size
    assert sides_right(found) == 0.0


@pytest.mark.parametrize(("roll_mps2", "unclear"), [(0.0, False), (ROLL_MPS2, True), (-1.0, False)])
def test_sides_that_the_roll_turns_round_are_said_to_be_unclear(roll_mps2, unclear):
    trunk = turning(roll_mps2=roll_mps2)
    assert find_contacts(trunk).notices == ()
    assert (steadied_side_margin(trunk, find_contacts(trunk)) < 0) is unclear
    (found,) = find_all_contacts([trunk])
    assert [notice.code for notice in found.notices] == ["side_unclear"] * unclear


def test_one_carry_that_rolls_does_not_doubt_the_others():
    found = find_all_contacts([WALK.trunk, turning(roll_mps2=ROLL_MPS2), WALK.trunk])
    assert all(item.notices == () for item in found)
