"""How errors of a gyroscope show: gravity drifts in the frame that its rate gives.

The unknowns are 3 of bias [rad/s], 9 of scale and alignment by rows [1], and 3 of the
accelerometer's offset [parts of gravity]: left out, an offset that turns with its
wearer would be taken for a rate about the vertical.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from imucarry.basics.evidence import motion as evidence
from imucarry.basics.records import FloatArray, IndexRanges
from imucarry.basics.units import STANDARD_GRAVITY_MPS2
from imucarry.motion import pairs, rotations, signals
from imucarry.motion.orientation.integrate import Blocks
from imucarry.motion.orientation.jumps import Jumps, within, without_jumps
from imucarry.motion.orientation.level import smooth, undo

BIAS, SCALE, OFFSET = slice(0, 3), slice(3, 12), slice(12, 15)
N_UNKNOWNS = 15
_RATE = slice(0, 12)  # all that adds to the rate


@dataclass(frozen=True, slots=True)
class Coarse:
    """Block means again, about one a second; time runs along the last axis."""

    rate_hz: float
    acc_world_mps2: FloatArray  # (3, K)
    effect: FloatArray  # (3, 12, K): what one of each unknown adds to the rate, in world axes
    weight: FloatArray  # (K,)
    parts: IndexRanges
    jumps: Jumps


@dataclass(frozen=True, slots=True)
class Equations:
    """``normal @ unknowns = right``, from independent values of one variance.

    Attributes
    ----------
    normal : ndarray, shape (15, 15)
    right : ndarray, shape (15,)
    total : float
        Sum of squares of what is to be explained.
    n_values : float
        How many values were added up.
    """

    normal: FloatArray
    right: FloatArray
    total: float
    n_values: float


def coarse_blocks(blocks: Blocks, weight: FloatArray, parts: IndexRanges, jumps: Jumps) -> Coarse:
    """Average the blocks, with what each unknown adds to the rate."""
    n = signals.block_length(weight.size, blocks.rate_hz, evidence.BIAS_RATE_HZ.value)
    n_coarse = weight.size // n
    edges = [min(round(stop / n), n_coarse) for _, stop in parts]
    edges[-1] = n_coarse
    cut = zip([0, *edges[:-1]], edges, strict=True)
    to_world = blocks.to_world[..., : n_coarse * n].reshape(3, 3, n_coarse, n)
    rate = blocks.gyr_radps[:, : n_coarse * n].reshape(3, n_coarse, n)
    effect = np.empty((3, 12, n_coarse))
    np.einsum("ijkn->ijk", to_world, out=effect[:, BIAS])
    np.einsum("ijkn,lkn->ijlk", to_world, rate, out=effect[:, SCALE].reshape(3, 3, 3, n_coarse))
    effect /= n
    share = signals.block_means(weight, n)
    acc = signals.block_means((blocks.acc_world_mps2 * weight).T, n).T
    return Coarse(
        rate_hz=blocks.rate_hz / n,
        acc_world_mps2=acc / np.maximum(share, np.finfo(np.float64).tiny),
        effect=effect,
        weight=share,
        parts=tuple((start, stop) for start, stop in cut if stop > start),
        jumps=Jumps(jumps.at / n, jumps.size_rad),
    )


def drift_equations(coarse: Coarse, unknowns: FloatArray, time_constant_s: float) -> Equations:
    """Set up what the drift of the smoothed vertical says about the unknowns.

    Parameters
    ----------
    coarse : Coarse
    unknowns : ndarray, shape (15,)
        As far as they are known.
    time_constant_s : float [s]
        Of the smoothing.

    Returns
    -------
    Equations

    Notes
    -----
    1. Take out the errors known so far (`undo`).
    2. In the remaining drift the vertical g turns with ``g' = (R e) x g``, R the
       rotation matrix and ``e = bias + scale @ rate`` what is left of the errors, and
       an offset a of the accelerometer moves it by ``(R a)'``: three linear equations
       a second.
    3. Both sides are smoothed alike, which leaves the equations true and rids
       them of the wearer's accelerations.
    4. One independent value each two time constants.
    5. What turned within filled gaps is weighed down on both sides (`without_jumps`).
    """
    rate_errors = unknowns[_RATE]
    turn = pairs.matrix_from_squares(
        pairs.pair_squares(undo(rate_errors @ coarse.effect, coarse.rate_hz))
    )
    acc = np.einsum("ijk,jk->ik", turn, coarse.acc_world_mps2)
    vertical = _smooth(acc, coarse, time_constant_s) / STANDARD_GRAVITY_MPS2
    # What a rate about each axis, and so one of each unknown, does to the vertical.
    lever = rotations.cross(turn.T, vertical.T[:, None]).T
    effect = np.concatenate(
        [
            np.einsum("ijk,juk->iuk", lever, coarse.effect),
            np.einsum("ijk,juk->iuk", turn, coarse.effect[:, BIAS]),
        ],
        axis=1,
    )
    effect = _smooth(effect, coarse, time_constant_s)
    effect[:, OFFSET] = _slopes(effect[:, OFFSET], coarse)
    columns = np.swapaxes(effect, 0, 1).reshape(N_UNKNOWNS, -1)
    drift = _slopes(vertical, coarse).ravel() + rate_errors @ columns[_RATE]
    share = 1 / max(2 * time_constant_s * coarse.rate_hz, 1.0)
    weight = np.concatenate([coarse.weight * share] * 3)
    if coarse.jumps.at.size:
        columns, drift = _without_jumps(columns, drift, coarse, time_constant_s, share)
    weighted = columns * weight
    return Equations(
        normal=weighted @ columns.T,
        right=weighted @ drift,
        total=float(weight @ drift**2),
        n_values=float(weight.sum()),
    )


def _without_jumps(
    columns: FloatArray, drift: FloatArray, coarse: Coarse, time_constant_s: float, share: float
) -> tuple[FloatArray, FloatArray]:
    """Return both sides of the equations without what turned within gaps."""

    def slopes(steps: FloatArray, rows: slice) -> FloatArray:
        here = replace(coarse, weight=coarse.weight[rows], parts=within(coarse.parts, rows))
        return _slopes(_smooth(steps, here, time_constant_s), here)

    both = np.concatenate([columns, drift[None]]).reshape((N_UNKNOWNS + 1) * 3, -1)
    rest = without_jumps(both, coarse.jumps, coarse.weight * share, slopes)
    rest = rest.reshape(N_UNKNOWNS + 1, -1)
    return rest[:-1], rest[-1]


def _smooth(x: FloatArray, coarse: Coarse, time_constant_s: float) -> FloatArray:
    return smooth(
        x,
        rate_hz=coarse.rate_hz,
        time_constant_s=time_constant_s,
        weight=coarse.weight,
        parts=coarse.parts,
    )


def _slopes(x: FloatArray, coarse: Coarse) -> FloatArray:
    """Return central differences a second, shape (..., K), 0 at both ends of each part."""
    slope = np.zeros_like(x)
    slope[..., 1:-1] = (0.5 * coarse.rate_hz) * (x[..., 2:] - x[..., :-2])
    for start, stop in coarse.parts:
        slope[..., start] = slope[..., stop - 1] = 0.0
    return slope
