"""Strides of one bout, and which of them count for what."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from imucarry.basics.evidence import contacts as contact_evidence
from imucarry.basics.evidence import passes as evidence
from imucarry.basics.records import (
    DROP_REASONS,
    SIDES,
    ArmMotion,
    BoolArray,
    Contacts,
    FloatArray,
    IntArray,
    Side,
    Strides,
    TrunkMotion,
)
from imucarry.basics.settings import WalkSettings
from imucarry.walk.passes import find_turns, usual_step

ARM_REASONS = ("no_sensor", "gap", "clipped")


def cut_strides(
    trunk: TrunkMotion,
    contacts: Contacts,
    arms: Mapping[Side, ArmMotion],
    settings: WalkSettings,
) -> Strides:
    """Cut a bout into strides, a left contact to the next left contact.

    Parameters
    ----------
    trunk : TrunkMotion
    contacts : Contacts
        Numbered by pass.
    arms : mapping of side to ArmMotion
        The worn wrists.
    settings : WalkSettings
        ``trim_strides``, ``turn_deg_per_stride``.

    Returns
    -------
    Strides
        Every stride of the bout; none is left out for an extreme value.
    """
    first, last = stride_contacts(contacts)
    start_s, end_s = contacts.time_s[first], contacts.time_s[last]
    right_s = right_contacts(contacts, first, last)
    number = np.where(same_pass(contacts.pass_number, first, last), contacts.pass_number[first], 0)
    place = place_in_pass(number)
    turning, beside = beside_turns(trunk, contacts, start_s, end_s, settings)
    drop = dict.fromkeys(DROP_REASONS, np.zeros(start_s.size, dtype=bool))
    drop["start"] = (number > 0) & (place <= settings.trim_strides)
    drop["stop"] = (number > 0) & (place_from_end(number) <= settings.trim_strides)
    drop["turn"] = turning | (number == 0)
    drop["beside_turn"] = beside & ~drop["turn"]
    drop["gap"] = touches(~trunk.usable, trunk.time_s, start_s, end_s)
    drop["clipped"] = touches(trunk.clipped, trunk.time_s, start_s, end_s)
    drop["contact_missed"] = contact_missed(contacts, first, last, right_s)
    base = ~any_of(drop, "start", "stop", "turn", "beside_turn", "contact_missed")
    spoilt = {side: arm_reasons(arms.get(side), start_s, end_s) for side in SIDES}
    kept_arm = {side: base & ~any_of(spoilt[side], *ARM_REASONS) for side in SIDES}
    return Strides(
        start_s=start_s,
        right_contact_s=right_s,
        end_s=end_s,
        left_step_time_s=end_s - right_s,
        right_step_time_s=right_s - start_s,
        pass_number=number,
        stride_in_pass=place,
        turning=drop["turn"],
        drop=drop,
        kept_timing=base & ~drop["gap"],
        kept_yaw=base & ~drop["gap"] & ~drop["clipped"],
        kept_left_arm=kept_arm["left"],
        kept_right_arm=kept_arm["right"],
        arm_drop={why: spoilt["left"][why] | spoilt["right"][why] for why in ARM_REASONS},
    )


def any_of(drop: Mapping[str, BoolArray], *reasons: str) -> BoolArray:
    """Return where any of the reasons holds."""
    return np.asarray(np.logical_or.reduce([drop[reason] for reason in reasons]))


def stride_contacts(contacts: Contacts) -> tuple[IntArray, IntArray]:
    """Return the contacts that start and end each stride, shape (S,) each.

    Two left contacts with a stop between them are no stride.
    """
    left = np.flatnonzero(contacts.is_left)
    longest_s = 1.0 / contact_evidence.STRIDE_RATE_MIN_HZ.value
    whole = np.diff(contacts.time_s[left]) <= longest_s
    return left[:-1][whole], left[1:][whole]


def right_contacts(contacts: Contacts, first: IntArray, last: IntArray) -> FloatArray:
    """Return the right contact within each stride, NaN unless there is exactly one."""
    one = last - first == 2
    middle = contacts.time_s[np.minimum(first + 1, contacts.time_s.size - 1)]
    return np.where(one, middle, np.nan)


def same_pass(number: IntArray, first: IntArray, last: IntArray) -> BoolArray:
    """Tell which strides lie in one pass from their first contact to their last."""
    changes = np.concatenate([[0], np.cumsum(np.diff(number) != 0)])
    if number.size == 0:
        return np.zeros(0, dtype=bool)
    return np.asarray(changes[first] == changes[last])


def place_in_pass(number: IntArray) -> IntArray:
    """Count the strides of each pass from 1; 0 in a turn."""
    place = np.zeros(number.size, dtype=np.int64)
    for value in np.unique(number[number > 0]):
        members = number == value
        place[members] = np.arange(1, members.sum() + 1)
    return place


def place_from_end(number: IntArray) -> IntArray:
    """Count the strides of each pass backwards from 1; 0 in a turn."""
    return place_in_pass(number[::-1])[::-1]


def beside_turns(
    trunk: TrunkMotion,
    contacts: Contacts,
    start_s: FloatArray,
    end_s: FloatArray,
    settings: WalkSettings,
) -> tuple[BoolArray, BoolArray]:
    """Tell which strides touch a turn, and which come so close that it may spoil them."""
    turning = np.zeros(start_s.size, dtype=bool)
    beside = np.zeros(start_s.size, dtype=bool)
    if start_s.size == 0:
        return turning, beside
    margin_s = evidence.BESIDE_TURN_STRIDES.value * (end_s - start_s)
    for turn in find_turns(trunk, contacts, settings):
        turning |= (start_s < turn.end_s) & (end_s > turn.start_s)
        beside |= (start_s - margin_s < turn.end_s) & (end_s + margin_s > turn.start_s)
    return turning, beside


def touches(
    marks: BoolArray, time_s: FloatArray, start_s: FloatArray, end_s: FloatArray
) -> BoolArray:
    """Tell which strides hold a marked sample."""
    count = np.concatenate([[0], np.cumsum(marks)])
    first, last = np.searchsorted(time_s, start_s), np.searchsorted(time_s, end_s, side="right")
    return np.asarray(count[last] > count[first])


def contact_missed(
    contacts: Contacts, first: IntArray, last: IntArray, right_s: FloatArray
) -> BoolArray:
    """Tell which strides lack a contact, or have a step long enough to hide one."""
    if first.size == 0:
        return np.zeros(0, dtype=bool)
    step_s = np.diff(contacts.time_s)
    long = step_s > evidence.MISSED_STEPS.value * usual_step(step_s)
    n_long = np.concatenate([[0], np.cumsum(long)])
    return np.asarray(np.isnan(right_s) | (n_long[last] > n_long[first]))


def arm_reasons(
    arm: ArmMotion | None, start_s: FloatArray, end_s: FloatArray
) -> dict[str, BoolArray]:
    """Tell for each of `ARM_REASONS` which strides it takes from an arm."""
    if arm is None or arm.time_s.size == 0:
        none = np.zeros(start_s.size, dtype=bool)
        return {"no_sensor": ~none, "gap": none, "clipped": none}
    there = np.asarray((start_s >= arm.time_s[0]) & (end_s <= arm.time_s[-1]))
    return {
        "no_sensor": ~there,
        "gap": touches(~arm.usable, arm.time_s, start_s, end_s),
        "clipped": touches(arm.clipped, arm.time_s, start_s, end_s),
    }


def no_strides() -> Strides:
    """Return strides without any stride: there is no chest sensor."""
    none, nothing = np.empty(0), np.empty(0, bool)
    number = np.empty(0, np.int64)
    return Strides(
        start_s=none,
        right_contact_s=none,
        end_s=none,
        left_step_time_s=none,
        right_step_time_s=none,
        pass_number=number,
        stride_in_pass=number,
        turning=nothing,
        drop={},
        kept_timing=nothing,
        kept_yaw=nothing,
        kept_left_arm=nothing,
        kept_right_arm=nothing,
    )
