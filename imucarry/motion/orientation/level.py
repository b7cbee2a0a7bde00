"""From a drifting frame to one whose z axis is up: gravity, smoothed both ways in time."""

from __future__ import annotations

import math

import numpy as np

from imucarry.basics.records import BoolArray, FloatArray, IndexRanges
from imucarry.motion import pairs, rotations, signals
from imucarry.motion.pairs import Pair

UP = np.array([0.0, 0.0, 1.0])
# Below this share of usable samples nearby, a smoothed mean is no longer formed from them.
_LEAST_SHARE = 1e-3


def smooth(
    x: FloatArray,
    *,
    rate_hz: float,
    time_constant_s: float,
    weight: FloatArray,
    parts: IndexRanges,
) -> FloatArray:
    """Low-pass each part of a signal alone, without lag, samples of no weight left out.

    Parameters
    ----------
    x : ndarray, shape (..., K) [any]
    rate_hz : float [Hz]
    time_constant_s : float [s]
        Of a second-order Butterworth filter, run forwards and backwards.
    weight : ndarray, shape (K,) [1]
    parts : index ranges
        Of blocks; together they cover all.

    Returns
    -------
    ndarray, shape (..., K) [as `x`]
    """
    cutoff_hz = math.sqrt(2) / (2 * math.pi * time_constant_s)
    answer = np.empty_like(x)
    for start, stop in parts:
        part, share = x[..., start:stop], weight[start:stop]
        if share.all():
            answer[..., start:stop] = _low_pass(part, rate_hz, cutoff_hz)
            continue
        below = _low_pass(share, rate_hz, cutoff_hz)
        above = _low_pass(part * share, rate_hz, cutoff_hz)
        answer[..., start:stop] = above / np.maximum(below, _LEAST_SHARE)
    return answer


def _low_pass(x: FloatArray, rate_hz: float, cutoff_hz: float) -> FloatArray:
    return signals.low_pass(x.T, rate_hz=rate_hz, cutoff_hz=cutoff_hz).T


def upright(gravity: FloatArray) -> Pair:
    """Return rotations that stand a moving vertical upright without turning about it.

    Parameters
    ----------
    gravity : ndarray, shape (3, K) [any]
        Direction of the vertical in the drifting frame.

    Returns
    -------
    two complex arrays, shape (K,) [1]

    Notes
    -----
    The first is the shortest arc from the vertical to z. Each next one first takes
    the vertical back by the shortest arc to where it was, and so on to the first:
    carried along like this (parallel transport) the correction has no part about
    the vertical, however far the frame has drifted.

    Columns without length, as far from every usable sample, take the vertical of the
    one before, or of the first that has one.
    """
    squared = np.einsum("ik,ik->k", gravity, gravity)
    known = squared > np.finfo(np.float64).tiny
    unit = gravity / np.sqrt(squared) if known.all() else _where_known(gravity, known)
    before = np.concatenate([UP[:, None], unit[:, :-1]], axis=1)
    return pairs.running_product(pairs.as_pair(rotations.shortest_arc(unit.T, before.T)))


def _where_known(gravity: FloatArray, known: BoolArray) -> FloatArray:
    """Return unit verticals, with that of a known column in each that has no length."""
    if not known.any():
        return np.broadcast_to(UP[:, None], gravity.shape)
    column = np.where(known, np.arange(known.size), np.argmax(known))
    filled = gravity[:, np.maximum.accumulate(column)]
    return np.asarray(filled / np.sqrt(np.einsum("ik,ik->k", filled, filled)))


def undo(error_radps: FloatArray, rate_hz: float) -> Pair:
    """Return the rotations that take errors of the angular rate out after integration.

    Parameters
    ----------
    error_radps : ndarray, shape (3, K) [rad/s]
        Mean error of each block, in the drifting frame.
    rate_hz : float [Hz]
        Of the blocks.

    Returns
    -------
    two complex arrays, shape (K,) [1]
        At the middle of each block, to be multiplied from the left.

    Notes
    -----
    With ``q' = q (rate) / 2`` and the true ``p' = p (rate - error) / 2``, the
    correction ``c = p q*`` obeys ``c' = -c (R error) / 2``, R the matrix of q: the
    error, seen in the drifting frame, integrated backwards. No approximation is made
    but that R and the error are replaced by their means.
    """
    turn = error_radps * (-0.5 / rate_hz)
    between = turn.copy()  # half of the block before, half of this one
    between[:, 1:] += turn[:, :-1]
    between *= 0.5
    return pairs.running_product(pairs.from_half_turns(between))
