"""Turns, stops and the straight runs between them, on a trunk whose path is known."""

from __future__ import annotations

import numpy as np
import pytest
from stepping_trunk import stepping, told_contacts

from imucarry.basics.records import Contacts
from imucarry.basics.settings import WalkSettings
from imucarry.walk.contacts import find_contacts, no_contacts
from imucarry.walk.passes import count_lanes, find_passes, find_turns, runs, usual_step

SETTINGS = WalkSettings()
STEP_S = 0.55
STRIDE_S = 2 * STEP_S


def along(turn_deg, start_s, strides, n=40, swing_deg=8.0):
    """Return a walk whose path turns once, at an even rate, with a swing at stride rate."""
    contact_s = told_contacts(step_s=STEP_S, n=n)
    time_s = np.arange(round((contact_s[-1] + 3.0) * 100.0)) / 100.0
    path = turn_deg * np.clip((time_s - start_s) / (strides * STRIDE_S), 0.0, 1.0)
    swing = 0.5 * swing_deg * np.cos(2 * np.pi * (time_s - contact_s[0]) / STRIDE_S)
    return stepping(contact_s, yaw_deg=path + swing)


def contacts_of(walk):
    return find_contacts(walk.trunk)


@pytest.mark.parametrize("strides", [1.0, 2.0, 3.0])
@pytest.mark.parametrize("turn_deg", [180.0, -180.0])
def test_turning_round_splits_the_bout(turn_deg, strides):
    walk = along(turn_deg, 12.0, strides)
    (turn,) = find_turns(walk.trunk, contacts_of(walk), SETTINGS)
    end_s = 12.0 + strides * STRIDE_S
    # The edges are put where the heading begins to change, to a third of a stride.
    assert turn.start_s == pytest.approx(12.0, abs=STRIDE_S / 3)
    assert turn.end_s == pytest.approx(end_s, abs=STRIDE_S / 3)
    passes, contacts = find_passes(walk.trunk, contacts_of(walk), SETTINGS)
    assert [item.number for item in passes] == [1, 2]
    assert passes[0].end_s <= turn.start_s
    assert passes[1].start_s >= turn.end_s
    in_turn = (contacts.time_s > turn.start_s) & (contacts.time_s < turn.end_s)
    assert (contacts.pass_number[in_turn] == 0).all()
    assert set(contacts.pass_number[~in_turn].tolist()) == {1, 2}


def test_a_gentle_curve_is_no_turn():
    walk = along(20.0 * 8, 10.0, 8.0)  # 20 deg a stride
    assert find_turns(walk.trunk, contacts_of(walk), SETTINGS) == ()
    passes, _ = find_passes(walk.trunk, contacts_of(walk), SETTINGS)
    assert len(passes) == 1


def test_a_wide_swing_is_no_turn():
    walk = along(0.0, 10.0, 1.0, swing_deg=30.0)
    assert find_turns(walk.trunk, contacts_of(walk), SETTINGS) == ()


def test_what_a_turn_is_can_be_set():
    walk = along(45.0, 12.0, 1.0)
    assert len(find_turns(walk.trunk, contacts_of(walk), WalkSettings())) == 1
    calm = WalkSettings(turn_deg_per_stride=60.0)
    assert find_turns(walk.trunk, contacts_of(walk), calm) == ()


def test_a_stop_splits_the_bout():
    walk = stepping(np.concatenate([told_contacts(n=13), told_contacts(n=13, start_s=12.6)]))
    passes, contacts = find_passes(walk.trunk, contacts_of(walk), SETTINGS)
    assert len(passes) == 2
    assert passes[0].end_s < 11.0 < 12.0 < passes[1].start_s
    assert (contacts.pass_number > 0).all()


def lanes(*legs):
    """Walk legs of 12 steps and turn by as many degrees after each, standing for some seconds.

    Each leg is (degrees turned after it, seconds that the turn or the stop takes).
    """
    contacts, headings, at_s, heading = [], [(0.0, 0.0)], 3.0, 0.0
    for turn_deg, pause_s in legs:
        contacts.append(told_contacts(step_s=STEP_S, n=13, start_s=at_s))
        end_s = float(contacts[-1][-1])
        headings += [(end_s + 0.2, heading), (end_s + pause_s - 0.2, heading + turn_deg)]
        at_s, heading = end_s + pause_s, heading + turn_deg
    contact_s = np.concatenate(contacts)
    time_s = np.arange(round((contact_s[-1] + 3.0) * 100.0)) / 100.0
    swing = 4.0 * np.cos(2 * np.pi * time_s / STRIDE_S)
    walk = stepping(contact_s, yaw_deg=np.interp(time_s, *np.transpose(headings)) + swing)
    passes, found = find_passes(walk.trunk, contacts_of(walk), SETTINGS)
    return len(passes), count_lanes(walk.trunk, found, passes)


@pytest.mark.parametrize(
    ("legs", "expected"),
    [
        ([(0.0, 1.0)], (1, 1)),
        ([(0.0, 6.0), (0.0, 1.0)], (2, 1)),  # put down on the way
        ([(-30.0, 6.0), (0.0, 6.0), (20.0, 5.0), (0.0, 1.0)], (4, 1)),  # several times
        ([(180.0, 4.0), (0.0, 1.0)], (2, 2)),  # stops at the end and turns round there
        ([(0.0, 6.0), (180.0, 4.0), (0.0, 6.0), (0.0, 1.0)], (4, 2)),
        ([(180.0, 4.0), (-180.0, 4.0), (180.0, 4.0), (0.0, 1.0)], (4, 4)),
    ],
)
def test_lanes_are_counted_by_turns_and_not_by_stops(legs, expected):
    assert lanes(*legs) == expected


def test_a_turn_in_stride_begins_a_lane_and_standing_still_has_none():
    walk = along(180.0, 12.0, 2.0)
    passes, contacts = find_passes(walk.trunk, contacts_of(walk), SETTINGS)
    assert count_lanes(walk.trunk, contacts, passes) == 2
    assert count_lanes(walk.trunk, no_contacts(), ()) == 0


def test_a_gap_in_the_data_is_no_stop():
    walk = stepping(told_contacts(n=30), gap_s=(9.0, 11.0))
    passes, _ = find_passes(walk.trunk, contacts_of(walk), SETTINGS)
    assert len(passes) == 1


def test_a_missed_contact_is_no_stop():
    walk = stepping(told_contacts(n=20))
    contacts = contacts_of(walk)
    keep = np.arange(contacts.time_s.size) != 9
    fewer = Contacts(
        contacts.time_s[keep], contacts.is_left[keep], np.zeros(keep.sum(), dtype=np.int64)
    )
    passes, _ = find_passes(walk.trunk, fewer, SETTINGS)
    assert len(passes) == 1


def test_no_contacts_no_passes():
    walk = stepping(np.empty(0), length_s=5.0)
    assert find_passes(walk.trunk, no_contacts(), SETTINGS)[0] == ()


def test_usual_step_and_runs():
    assert usual_step(np.array([0.5, 0.5, 2.0, 0.5, 0.5, 0.5]))[2] == 0.5
    assert runs(np.array([True, False, True, True])) == [(0, 1), (2, 4)]
    assert runs(np.zeros(3, dtype=bool)) == []
