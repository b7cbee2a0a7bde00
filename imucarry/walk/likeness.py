"""A second look at the candidates: how much each looks like the bout's own contacts."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from imucarry.basics.evidence import contacts as evidence
from imucarry.basics.records import BoolArray, FloatArray, IntArray
from imucarry.walk.candidates import Candidates
from imucarry.walk.grid import Spectrum, band
from imucarry.walk.refine import pieces, samples_in


def judged_by_likeness(
    candidates: Candidates, acc: Spectrum, chosen: IntArray, is_left: BoolArray
) -> Candidates:
    """Return the candidates, worth more the more they look like those chosen first.

    Parameters
    ----------
    candidates : Candidates
    acc : Spectrum
        Of acceleration along forward, left, up, without gravity [m/s^2].
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
    x = band(acc, low_hz=evidence.SHAPE_LOW_HZ.value, high_hz=evidence.SALIENCE_CUTOFF_HZ.value)
    half = samples_in(evidence.SHAPE_HALF_S.value, acc.rate_hz)
    centre = candidates.index.astype(np.float64)
    own = pieces(x, centre[chosen], half)
    own[1, ~is_left] *= -1.0
    shape = own.mean(axis=1)
    shift = evidence.LIKENESS_SHIFT_S.value * acc.rate_hz
    like = np.max([likeness(x, centre + s, shape) for s in (-shift, 0.0, shift)], axis=0)
    more = evidence.LIKENESS_WEIGHT.value * (like - evidence.LIKENESS_USUAL.value)
    return replace(candidates, worth=candidates.worth + more)


def likeness(x: FloatArray, centre: FloatArray, shape: FloatArray) -> FloatArray:
    """Return the correlation of each piece with a shape, of either foot, shape (K,).

    Parameters
    ----------
    x : ndarray, shape (3, N)
        Along forward, left, up; left changes its sign with the foot.
    centre : ndarray, shape (K,)
        In samples.
    shape : ndarray, shape (3, W)
        Of a left contact.
    """
    part = pieces(x, centre, shape.shape[1] // 2)
    forward, left, up = np.einsum("ckw,cw->ck", part, shape)
    size = np.sqrt(np.einsum("ckw,ckw->k", part, part) * np.sum(shape**2))
    return np.asarray((forward + np.abs(left) + up) / np.maximum(size, 1e-12))
