"""What turned within a filled gap: gravity jumps there in the integrated frame.

The jump is no error of the gyroscope. Its trace in the smoothed drift is known in shape
and roughly in size, and is weighed down on both sides of the equations.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

import numpy as np

from imucarry.basics.evidence import motion as evidence
from imucarry.basics.records import FloatArray, IndexRanges, Recording
from imucarry.basics.units import RAD_PER_DEG

# Rows of one solution, and how far beyond them a jump may still reach in: a long
# recording takes time and memory by its length, not by its square.
_WINDOW, _REACH = 512, 48

Slopes = Callable[[FloatArray, slice], FloatArray]
"""Smoothed slopes of signals on some of the rows, shape (J, n) to (J, n)."""


@dataclass(frozen=True, slots=True)
class Jumps:
    """What may have turned unseen, J times; shapes (J,).

    Attributes
    ----------
    at : ndarray
        When, in blocks from the start, in order.
    size_rad : ndarray [rad]
        How far, as a standard deviation.
    """

    at: FloatArray
    size_rad: FloatArray


def jumps_of(recording: Recording, n_block: int) -> Jumps:
    """Return what may have turned unseen within the filled gaps of a recording.

    Parameters
    ----------
    recording : Recording
        Its gaps are filled by straight lines.
    n_block : int
        Samples of a block.
    """
    gaps = recording.gaps
    return Jumps(
        at=np.array([(a + b) / (2.0 * n_block) for a, b in gaps]),
        size_rad=np.array([_unseen_turn(recording, a, b) for a, b in gaps]),
    )


def _unseen_turn(recording: Recording, first: int, last: int) -> float:
    """Return by how much the filling of a gap may miss its turn [rad].

    Root mean square of what straight lines of the same length miss in the seconds around.
    """
    around = round(evidence.GAP_AROUND_S.value * recording.rate_hz)
    n_steps = last - first + 1
    before = recording.gyr_radps[max(first - around, 0) : first]
    after = recording.gyr_radps[last : last + around]
    squares = [np.empty(0)]
    for rate in (before, after):
        if rate.shape[0] > n_steps:
            ends = (rate[:-n_steps] + rate[n_steps:]) / 2.0
            angle = np.cumsum((rate[1:] + rate[:-1]) / 2.0, axis=0)
            angle[n_steps:] -= angle[:-n_steps].copy()
            missed = angle[n_steps - 1 :] - n_steps * ends
            squares.append(np.einsum("ij,ij->i", missed, missed))
    known = np.concatenate(squares)
    return float(np.sqrt(known.mean())) / recording.rate_hz if known.size else 0.0


def without_jumps(rows: FloatArray, jumps: Jumps, weight: FloatArray, slopes: Slopes) -> FloatArray:
    """Weigh down in the rows of a drift what jumps of likely sizes leave in it.

    Parameters
    ----------
    rows : ndarray, shape (C, K) [any]
        Smoothed slopes, the same jumps in each; C of them.
    jumps : Jumps
        In rows from the start.
    weight : ndarray, shape (K,) [1]
        Independent values that each row stands for.
    slopes : callable
        Makes of a jump of one what it leaves, as the rows were made.

    Returns
    -------
    ndarray, shape (C, K)

    Notes
    -----
    Generalised least squares: the rows are multiplied by ``C^-1/2``, C the covariance of
    what the jumps leave beside the usual residual, both a unit of the latter. Where jumps
    drown the drift little of it is left; what is far beyond them still shows.
    """
    rest = rows.copy()
    usual_radps = evidence.DRIFT_SEEN_DEGPS.value * RAD_PER_DEG
    for own, wide in _windows(rows.shape[1]):
        near = (jumps.at > wide.start) & (jumps.at < wide.stop)
        if not near.any():
            continue
        # A jump within a row's second counts for the part of the second after it.
        index = np.arange(wide.start, wide.stop)
        steps = np.clip(index + 1.0 - jumps.at[near, None], 0.0, 1.0)
        inside = slice(own.start - wide.start, own.stop - wide.start)
        root = np.sqrt(weight[own])
        left = slopes(steps * jumps.size_rad[near, None], wide)[:, inside] * root
        shapes, sizes, _ = np.linalg.svd(left.T, full_matrices=False)
        kept = 1.0 / np.sqrt(1.0 + (sizes / usual_radps) ** 2)
        scaled = rest[:, own] * root
        scaled -= ((scaled @ shapes) * (1.0 - kept)) @ shapes.T
        rest[:, own] = np.divide(scaled, root, out=np.zeros_like(scaled), where=root > 0)
    return rest


def _windows(n_rows: int) -> Iterator[tuple[slice, slice]]:
    """Yield ranges that cover all rows once, each with the wider one around it."""
    for start in range(0, n_rows, _WINDOW):
        stop = min(start + _WINDOW, n_rows)
        yield slice(start, stop), slice(max(start - _REACH, 0), min(stop + _REACH, n_rows))


def within(parts: IndexRanges, rows: slice) -> IndexRanges:
    """Return the parts that lie in a range of rows, cut off at its ends, counted from it."""
    cut = [(max(a, rows.start), min(b, rows.stop)) for a, b in parts]
    return tuple((a - rows.start, b - rows.start) for a, b in cut if b > a)
