"""Whether the contacts of a bout can be right: steps lost, and strides unlike each other."""

from __future__ import annotations

from itertools import pairwise

import numpy as np

from imucarry.basics.evidence import contacts as evidence
from imucarry.basics.evidence import passes as search_evidence
from imucarry.basics.records import BoolArray, Contacts, FloatArray, TrunkMotion
from imucarry.walk.grid import filtered, moving_mean
from imucarry.walk.strides import same_pass

FORWARD, UP = 0, 2


def moving_and_lost_s(trunk: TrunkMotion, contacts: Contacts) -> tuple[float, float]:
    """Return how long a trunk moved up and down as in walking, and how much of it has no contacts.

    Parameters
    ----------
    trunk : TrunkMotion
    contacts : Contacts

    Returns
    -------
    moving_s, lost_s : float [s]

    Notes
    -----
    Moving: vertical acceleration in the rhythm's band has at least the root mean square
    from which walking is sought without a sheet, and a part of that between contacts.
    A moment has contacts where one lies within the longest step of it.
    """
    x = _rhythm(trunk)
    if not x.size:
        return 0.0, 0.0
    width = int(evidence.RHYTHM_WINDOW_S.value * trunk.rate_hz)
    rms = np.sqrt(moving_mean(x[:, UP] ** 2, width))
    near = _near(trunk.time_s, contacts.time_s)
    least = search_evidence.CHEST_VERTICAL_LEAST_MPS2.value
    if near.any():
        least = max(least, evidence.LOST_LEVEL_FRAC.value * float(np.median(rms[near])))
    moving = (rms >= least) & trunk.usable
    return float(moving.sum() / trunk.rate_hz), float((moving & ~near).sum() / trunk.rate_hz)


def _near(time_s: FloatArray, contact_s: FloatArray) -> BoolArray:
    """Mark the samples that have a contact within the longest step."""
    reach_s = evidence.INTERVAL_MAX_S.value
    after = np.searchsorted(contact_s, time_s + reach_s, side="right")
    return np.asarray(after > np.searchsorted(contact_s, time_s - reach_s))


def stride_likeness(trunk: TrunkMotion, contacts: Contacts) -> float:
    """Return how like each stride is to the next, forward and up: 1 the same, 0 not at all.

    Parameters
    ----------
    trunk : TrunkMotion
    contacts : Contacts

    Returns
    -------
    float
        NaN with fewer than `evidence.LIKENESS_LEAST_CONTACTS` contacts, or no two strides
        that follow each other.
    """
    if contacts.time_s.size < evidence.LIKENESS_LEAST_CONTACTS.value:
        return float("nan")
    x = _rhythm(trunk)[:, [FORWARD, UP]]
    left = np.rint((contacts.time_s[contacts.is_left] - trunk.time_s[0]) * trunk.rate_hz)
    longest = 2.0 * evidence.INTERVAL_MAX_S.value * trunk.rate_hz
    strides = [(int(a), int(b)) for a, b in pairwise(left) if b - a <= longest]
    shared = power = 0.0
    for (first, middle), (start, end) in pairwise(strides):
        length = min(middle - first, end - start)
        if start != middle or first < 0 or start + length > x.shape[0]:
            continue
        one, other = x[first : first + length], x[start : start + length]
        shared += float((one * other).sum())
        power += float((one**2).sum() + (other**2).sum()) / 2.0
    return shared / power if power > 0.0 else float("nan")


def odd_strides_frac(contacts: Contacts) -> float:
    """Return the part of the passes' strides that are much longer or shorter than the median.

    Parameters
    ----------
    contacts : Contacts
        Numbered by pass.

    Returns
    -------
    float
        NaN with fewer than `evidence.LIKENESS_LEAST_CONTACTS` contacts, or no stride in a pass.

    Notes
    -----
    Where a contact is missed on either side, or two are found for one, a stride is longer
    or shorter by half and more; a person's own strides vary by a few per cent. Strides in a
    turn, or with a turn or a stop in them, are left out: a pause makes them longer.
    """
    if contacts.time_s.size < evidence.LIKENESS_LEAST_CONTACTS.value:
        return float("nan")
    left = np.flatnonzero(contacts.is_left)
    stride_s = np.diff(contacts.time_s[left])
    walked = same_pass(contacts.pass_number, left[:-1], left[1:])
    walked &= contacts.pass_number[left[:-1]] > 0
    whole = stride_s <= 2.0 * evidence.INTERVAL_MAX_S.value
    if not (walked & whole).any():
        return float("nan")
    apart = np.abs(np.log(stride_s[walked & whole] / np.median(stride_s[whole])))
    return float(np.mean(apart > np.log(evidence.ODD_STRIDE_RATIO.value)))


def _rhythm(trunk: TrunkMotion) -> FloatArray:
    """Return acceleration in the band of the rhythm, shape (N, 3) [m/s^2]."""
    low_hz, high_hz = evidence.RHYTHM_BAND_LOW_HZ.value, evidence.RHYTHM_BAND_HIGH_HZ.value
    return filtered(trunk.acc_mps2, trunk.rate_hz, low_hz=low_hz, high_hz=high_hz)
