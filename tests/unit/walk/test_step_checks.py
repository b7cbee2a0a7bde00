"""Contacts that cannot be right: steps lost, and strides unlike each other."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from stepping_trunk import stepping, told_contacts

from imucarry.basics.records import Contacts
from imucarry.walk.contacts import no_contacts
from imucarry.walk.step_checks import moving_and_lost_s, odd_strides_frac, stride_likeness


def contacts_at(time_s, is_left=None):
    """Return contacts at some times, sides in turn."""
    left = np.arange(time_s.size) % 2 == 0 if is_left is None else is_left
    return Contacts(time_s=time_s, is_left=left, pass_number=np.ones(time_s.size, dtype=np.int64))


@pytest.fixture(scope="module")
def walk():
    return stepping(told_contacts(step_s=0.6, n=50))


def test_a_walk_with_all_its_contacts_has_lost_nothing(walk):
    moving_s, lost_s = moving_and_lost_s(walk.trunk, contacts_at(walk.contact_s))
    assert moving_s == pytest.approx(30.0, abs=3.0)
    assert lost_s == 0.0


def test_a_walk_without_contacts_is_lost(walk):
    moving_s, lost_s = moving_and_lost_s(walk.trunk, no_contacts())
    assert lost_s == moving_s > 27.0


def test_half_a_walk_is_lost(walk):
    moving_s, lost_s = moving_and_lost_s(walk.trunk, contacts_at(walk.contact_s[:25]))
    assert lost_s == pytest.approx(moving_s / 2.0, abs=3.0)


def test_what_was_not_recorded_is_not_lost(walk):
    trunk = replace(walk.trunk, usable=np.zeros_like(walk.trunk.usable))
    assert moving_and_lost_s(trunk, no_contacts()) == (0.0, 0.0)


def test_standing_and_nothing_at_all_are_no_walk(walk):
    still = replace(walk.trunk, acc_mps2=np.zeros_like(walk.trunk.acc_mps2))
    assert moving_and_lost_s(still, no_contacts()) == (0.0, 0.0)
    assert np.isnan(stride_likeness(still, contacts_at(walk.contact_s)))


def test_strides_are_alike_at_the_right_cadence_and_not_at_a_false_one(walk):
    assert stride_likeness(walk.trunk, contacts_at(walk.contact_s)) > 0.9
    false = np.arange(walk.contact_s[0], walk.contact_s[-1], 0.6 / 1.5)
    assert stride_likeness(walk.trunk, contacts_at(false)) < 0.5


def test_few_contacts_say_nothing(walk):
    assert np.isnan(stride_likeness(walk.trunk, contacts_at(walk.contact_s[:6])))
    assert np.isnan(odd_strides_frac(contacts_at(walk.contact_s[:6])))


def test_strides_over_missed_contacts_are_odd(walk):
    assert odd_strides_frac(contacts_at(walk.contact_s)) == 0.0
    kept = np.ones(walk.contact_s.size, dtype=bool)
    kept[10:30:4] = kept[11:30:4] = False
    sides = np.arange(kept.size) % 2 == 0
    assert odd_strides_frac(contacts_at(walk.contact_s[kept], sides[kept])) > 0.2


def test_pauses_at_the_ends_of_short_lanes_are_not_odd():
    # Six lanes of ten steps, with a second of standing between them.
    lane, step = np.divmod(np.arange(60), 10)
    contacts = contacts_at(20.0 + 0.55 * np.arange(60) + 1.0 * lane)
    assert odd_strides_frac(contacts) > 0.1
    assert odd_strides_frac(replace(contacts, pass_number=lane + 1)) == 0.0
    turning = np.where(step < 2, 0, lane + 1)
    assert odd_strides_frac(replace(contacts, pass_number=turning)) == 0.0


def test_missed_contacts_within_lanes_are_odd_still():
    lane, step = np.divmod(np.arange(60), 10)
    kept = ~np.isin(step, (4, 5))
    contacts = contacts_at((20.0 + 0.55 * np.arange(60) + 1.0 * lane)[kept])
    assert odd_strides_frac(replace(contacts, pass_number=lane[kept] + 1)) > 0.2


def test_turns_alone_have_no_odd_strides(walk):
    contacts = contacts_at(walk.contact_s)
    assert np.isnan(odd_strides_frac(replace(contacts, pass_number=0 * contacts.pass_number)))
