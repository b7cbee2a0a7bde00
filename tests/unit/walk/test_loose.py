"""A chest sensor that shakes on its strap."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from invented_bout import make_bout
from stepping_trunk import stepping, told_contacts

from imucarry.basics.records import BoutRow, Contacts
from imucarry.walk.loose import check_loose, shake_and_turn_deg

STRIDE_HZ = 0.9


def walk(*, shake_deg=0.0, shake_hz=5.0, turn_deg=3.0, rate_hz=100.0):
    """Return a trunk that turns in its strides and shakes, both as root mean squares."""
    made = stepping(told_contacts(step_s=0.5 / STRIDE_HZ, n=40), rate_hz=rate_hz)
    time_s = made.trunk.time_s
    rate = np.zeros((time_s.size, 3))
    for size_deg, f_hz in ((turn_deg, STRIDE_HZ), (shake_deg, shake_hz)):
        swing = 2.0 * np.pi * f_hz
        rate[:, 2] += np.sqrt(2.0) * np.radians(size_deg) * swing * np.cos(swing * time_s)
    contacts = Contacts(
        time_s=made.contact_s,
        is_left=made.is_left,
        pass_number=np.ones(made.contact_s.size, dtype=np.int64),
    )
    return replace(made.trunk, gyr_radps=rate), contacts


def told(*, bouts=("3",), **shape):
    trunk, contacts = walk(**shape)
    walked = replace(make_bout(), trunk=trunk, contacts=contacts)
    return check_loose([replace(walked, row=BoutRow(name, 0.0, 30.0)) for name in bouts])


@pytest.mark.parametrize("shake_hz", [4.0, 5.0, 6.0])
def test_shake_and_turn_are_told_apart(shake_hz):
    shake_deg, turn_deg = shake_and_turn_deg(*walk(shake_deg=0.8, shake_hz=shake_hz))
    # The edges of the band take up to a quarter.
    assert 0.75 * 0.8 < shake_deg < 0.8
    assert turn_deg == pytest.approx(3.0, rel=0.05)


def test_a_loose_strap_is_told():
    first, second = told(shake_deg=0.8, bouts=("3", "4"))
    assert (first.code, first.where, first.severity) == ("chest_loose", "3", "check")
    assert second.where == "4"
    assert " shakes by 0.7 deg " in first.message


def test_a_tight_one_is_not():
    assert told(shake_deg=0.3) == ()


def test_a_shake_that_the_rotation_outweighs_is_not():
    assert told(shake_deg=0.8, turn_deg=8.0) == ()


def test_neither_the_strides_harmonics_nor_ringing_tissue_shake():
    assert told(shake_deg=0.8, shake_hz=3.0 * STRIDE_HZ) == ()
    assert told(shake_deg=0.8, shake_hz=12.0) == ()


def test_nothing_is_said_of_few_contacts_or_few_samples_a_second():
    trunk, contacts = walk(shake_deg=0.8)
    few = Contacts(contacts.time_s[:6], contacts.is_left[:6], contacts.pass_number[:6])
    assert shake_and_turn_deg(trunk, few) == (0.0, 0.0)
    assert told(shake_deg=0.8, rate_hz=20.0) == ()
