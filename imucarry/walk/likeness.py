"""A second look at the candidates: how much each looks like the bout's own contacts."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from imucarry.basics.evidence import contacts as evidence
from imucarry.basics.records import BoolArray, FloatArray, IntArray
from imucarry.walk.candidates import Candidates
from imucarry.walk.grid import filtered
from imucarry.walk.refine import around, pieces


def judged_by_likeness(
    candidates: Candidates,
    acc_mps2: FloatArray,
    rate_hz: float,
    chosen: IntArray,
    is_left: BoolArray,
) -> Candidates:
    """Return the candidates, worth more the more they look like those chosen first.

    Parameters
    ----------
    candidates : Candidates
    acc_mps2 : ndarray, shape (N, 3) [m/s^2]
        Along forward, left, up, without gravity.
    rate_hz : float [Hz]
    chosen, is_left : ndarray, shape (C,)
        The first choice of contacts, most of them right.

    Returns
    -------
    Candidates
        As they came where the first choice is too small to tell what a contact of
        this person looks like.
    """
    if chosen.size < evidence.LIKENESS_LEAST_CONTACTS.value:
        return candidates
    x = filtered(
        acc_mps2,
        rate_hz,
        low_hz=evidence.SHAPE_LOW_HZ.value,
        high_hz=evidence.SALIENCE_CUTOFF_HZ.value,
    )
    offset = around(evidence.SHAPE_HALF_S.value, rate_hz)
    centre = candidates.index.astype(np.float64)
    own = pieces(x, centre[chosen], offset)
    own[~is_left, :, 1] *= -1.0
    shape = own.mean(axis=0)
    shift = evidence.LIKENESS_SHIFT_S.value * rate_hz
    like = np.max([likeness(x, centre + s, offset, shape) for s in (-shift, 0.0, shift)], axis=0)
    more = evidence.LIKENESS_WEIGHT.value * (like - evidence.LIKENESS_USUAL.value)
    return replace(candidates, worth=candidates.worth + more)


def likeness(
    x: FloatArray, centre: FloatArray, offset: FloatArray, shape: FloatArray
) -> FloatArray:
    """Return the correlation of each piece with a shape, of either foot, shape (K,).

    Parameters
    ----------
    x : ndarray, shape (N, 3)
        Along forward, left, up; left changes its sign with the foot.
    centre : ndarray, shape (K,)
        In samples.
    offset : ndarray, shape (W,)
    shape : ndarray, shape (W, 3)
        Of a left contact.
    """
    part = pieces(x, centre, offset)
    same = (part[..., [0, 2]] * shape[:, [0, 2]]).sum(axis=(1, 2))
    swapping = np.abs((part[..., 1] * shape[:, 1]).sum(axis=1))
    size = np.sqrt((part**2).sum(axis=(1, 2)) * (shape**2).sum())
    return np.asarray((same + swapping) / np.maximum(size, 1e-12))
