"""The gyroscope's errors, from rest and from how gravity drifts in the integrated frame."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from imucarry.basics.evidence import motion as evidence
from imucarry.basics.records import BoolArray, FloatArray, IndexRanges, IntArray
from imucarry.basics.settings import MotionSettings
from imucarry.basics.units import RAD_PER_DEG, STANDARD_GRAVITY_MPS2
from imucarry.motion import pairs, rotations, signals
from imucarry.motion.orientation.integrate import Blocks
from imucarry.motion.orientation.level import smooth, undo

# The second time starts from a frame that hardly drifts any more; a third changes nothing.
_N_TIMES = 2
_BIAS = slice(0, 3)  # of the twelve unknowns, the others are the scale by rows


@dataclass(frozen=True, slots=True)
class RateErrors:
    """What a gyroscope reads too much: ``bias + scale @ rate``.

    Attributes
    ----------
    bias_radps : ndarray, shape (3,) [rad/s]
    scale : ndarray, shape (3, 3) [1]
        On the diagonal errors of scale, beside it those of alignment.
    bias_sd_radps : float [rad/s]
        Standard error of the bias in the direction that is known least.
    """

    bias_radps: FloatArray
    scale: FloatArray
    bias_sd_radps: float


@dataclass(frozen=True, slots=True)
class Information:
    """What one source says about unknowns: ``matrix @ unknowns = vector`` as precisions."""

    matrix: FloatArray  # (U, U)
    vector: FloatArray  # (U,)


def fit_errors(
    blocks: Blocks,
    still: BoolArray,
    weight: FloatArray,
    parts: IndexRanges,
    settings: MotionSettings,
) -> RateErrors:
    """Estimate a gyroscope's constant errors by weighted least squares.

    Parameters
    ----------
    blocks : Blocks
    still : ndarray of bool, shape (K,)
        Blocks at rest.
    weight : ndarray, shape (K,) [1]
        Usable share of each block.
    parts : index ranges
        Of blocks that no long gap parts.
    settings : MotionSettings

    Returns
    -------
    RateErrors

    Notes
    -----
    Three sources are added up by their precision:
    1. rest: the mean rate is the bias (`rest_information`);
    2. drift: an error turns the smoothed vertical of the integrated frame
       (`drift_information`), also without any rest;
    3. that gyroscopes are near zero and nearly right in scale, which decides only
       what 1 and 2 leave open: the scale about a vertical that the sensor never leaves.
    The fit is made twice, the second time in the frame that the first one corrected.
    """
    known = _beforehand(settings)
    rest = rest_information(blocks, still & (weight > 0))
    known.matrix[_BIAS, _BIAS] += rest.matrix
    known.vector[_BIAS] += rest.vector
    coarse = _coarse(blocks, weight, parts)
    unknowns = _solve(known)
    for _ in range(_N_TIMES):
        drift = drift_information(coarse, unknowns, settings.tilt_time_constant_s)
        both = Information(drift.matrix + known.matrix, drift.vector + known.vector)
        unknowns = _solve(both)
    spread = np.linalg.inv(both.matrix)[_BIAS, _BIAS]
    return RateErrors(
        bias_radps=unknowns[_BIAS],
        scale=unknowns[3:].reshape(3, 3),
        bias_sd_radps=math.sqrt(float(np.linalg.eigvalsh(spread)[-1])),
    )


def _solve(known: Information) -> FloatArray:
    return np.asarray(np.linalg.solve(known.matrix, known.vector), dtype=np.float64)


def _beforehand(settings: MotionSettings) -> Information:
    """What is known of any small gyroscope: its errors are near zero."""
    bias_sd_radps = settings.bias_prior_degps * RAD_PER_DEG
    sd = np.array([bias_sd_radps] * 3 + [evidence.RATE_SCALE_SD_FRAC.value] * 9)
    return Information(np.diag(sd**-2.0), np.zeros(12))


# --- rest ----------------------------------------------------------------------


def rest_information(blocks: Blocks, still: BoolArray) -> Information:
    """Weigh the mean rates of short pieces of rest.

    Notes
    -----
    A piece's mean has the variance of its blocks over its length in seconds: sway
    of a standing person changes within about a second. Pieces that turn slowly
    show by their distance from the median and are left out.
    """
    starts, stops = _pieces(still, blocks.rate_hz)
    if starts.size == 0:
        return Information(np.zeros((3, 3)), np.zeros(3))
    n_blocks = stops - starts
    rough = blocks.gyr_radps[:, starts[0], None]  # near enough that squares keep their digits
    rate = blocks.gyr_radps - rough
    mean = _sums(rate, starts, stops) / n_blocks
    variance = (_sums(rate * rate, starts, stops) / n_blocks - mean * mean).mean(axis=0)
    length_s = n_blocks / blocks.rate_hz
    floor = (evidence.STILL_BIAS_DEGPS.value * RAD_PER_DEG) ** 2
    precision = 1 / (np.maximum(variance, 0) / length_s + floor)
    away = np.abs(mean - np.sort(mean)[:, mean.shape[1] // 2, None]).max(axis=0)
    slow_turn = away > evidence.REST_OUTLIER_DEGPS.value * RAD_PER_DEG
    precision[slow_turn & (away * np.sqrt(precision) > evidence.REST_OUTLIER_Z.value)] = 0.0
    # The floor is a wander that all pieces share: together they know no better than it.
    total = precision.sum()
    if total == 0.0:
        return Information(np.zeros((3, 3)), np.zeros(3))
    best = rough[:, 0] + (mean @ precision) / total
    together = 1 / (1 / total + floor)
    return Information(np.eye(3) * together, best * together)


def _pieces(still: BoolArray, rate_hz: float) -> tuple[IntArray, IntArray]:
    """Cut every rest into pieces; return their first and last-plus-one blocks.

    Where a rest borders on motion its end is left out: leaning into the first
    step is still slow.
    """
    n_piece = max(2, round(evidence.REST_PIECE_S.value * rate_hz))
    n_end = round(evidence.REST_END_S.value * rate_hz)
    starts: list[int] = []
    stops: list[int] = []
    for first, last in signals.ranges_of(still):
        start = first + n_end if first > 0 else first
        stop = last - n_end if last < still.size else last
        if stop - start < 2:
            continue
        n_pieces = max(1, (stop - start) // n_piece)
        edges = [start + (stop - start) * index // n_pieces for index in range(n_pieces + 1)]
        starts += edges[:-1]
        stops += edges[1:]
    return np.array(starts, dtype=np.int64), np.array(stops, dtype=np.int64)


def _sums(x: FloatArray, starts: IntArray, stops: IntArray) -> FloatArray:
    running = np.zeros((x.shape[0], x.shape[1] + 1))
    np.cumsum(x, axis=1, out=running[:, 1:])
    return np.asarray(running[:, stops] - running[:, starts])


# --- drift ---------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Coarse:
    """Block means again, about one a second; time runs along the last axis."""

    rate_hz: float
    acc_world_mps2: FloatArray  # (3, K)
    effect: FloatArray  # (3, 12, K): what one of each unknown adds to the rate, in world axes
    weight: FloatArray  # (K,)
    parts: IndexRanges


def _coarse(blocks: Blocks, weight: FloatArray, parts: IndexRanges) -> _Coarse:
    n = signals.block_length(weight.size, blocks.rate_hz, evidence.BIAS_RATE_HZ.value)
    n_coarse = weight.size // n
    edges = [min(round(stop / n), n_coarse) for _, stop in parts]
    edges[-1] = n_coarse
    cut = zip([0, *edges[:-1]], edges, strict=True)
    to_world = blocks.to_world[..., : n_coarse * n].reshape(3, 3, n_coarse, n)
    rate = blocks.gyr_radps[:, : n_coarse * n].reshape(3, n_coarse, n)
    effect = np.empty((3, 12, n_coarse))
    np.einsum("ijkn->ijk", to_world, out=effect[:, _BIAS])
    np.einsum("ijkn,lkn->ijlk", to_world, rate, out=effect[:, 3:].reshape(3, 3, 3, n_coarse))
    effect /= n
    return _Coarse(
        rate_hz=blocks.rate_hz / n,
        acc_world_mps2=signals.block_means(blocks.acc_world_mps2.T, n).T,
        effect=effect,
        weight=signals.block_means(weight, n),
        parts=tuple((start, stop) for start, stop in cut if stop > start),
    )


def drift_information(coarse: _Coarse, unknowns: FloatArray, time_constant_s: float) -> Information:
    """Fit the gyroscope's errors to the drift of the smoothed vertical.

    Notes
    -----
    1. Take out the errors known so far (`undo`).
    2. In the remaining drift the vertical g turns with ``g' = (R e) x g``, R the
       rotation matrix and ``e = bias + scale @ rate`` what is left of the errors:
       three linear equations a second.
    3. Both sides are smoothed alike, which leaves the equations true and rids
       them of the wearer's accelerations.
    4. Precision from the residuals, one independent value each two time constants;
       never better than the bias itself wanders.
    """
    back = undo(unknowns @ coarse.effect, coarse.rate_hz)
    turn = pairs.matrix_from_squares(pairs.pair_squares(back))
    acc = np.einsum("ijk,jk->ik", turn, coarse.acc_world_mps2)
    vertical = _smooth(acc, coarse, time_constant_s) / STANDARD_GRAVITY_MPS2
    # What a rate about each axis, and so one of each unknown, does to the vertical.
    lever = rotations.cross(turn.T, vertical.T[:, None]).T
    turning = _smooth(np.einsum("ijk,juk->iuk", lever, coarse.effect), coarse, time_constant_s)
    n_unknowns = turning.shape[1]
    columns = np.swapaxes(turning, 0, 1).reshape(n_unknowns, -1)
    drift = (_slopes(vertical, coarse) * coarse.rate_hz).ravel()
    weight = np.concatenate([coarse.weight] * 3)
    weighted = columns * weight
    normal, right = weighted @ columns.T, weighted @ drift
    # Directions that gravity says nothing about are left to the other sources.
    ridge = np.finfo(np.float64).eps * (normal.diagonal().sum() + 1.0)
    extra = np.linalg.solve(normal + ridge * np.eye(n_unknowns), right)
    residual = drift - extra @ columns
    variance = float(weight @ residual**2) / max(float(weight.sum()), 1.0)
    share = 1 / max(2 * time_constant_s * coarse.rate_hz, 1.0)
    wander = (evidence.STILL_BIAS_DEGPS.value * RAD_PER_DEG) ** 2
    matrix = normal * share / (variance + wander)
    never_better = np.eye(n_unknowns)
    never_better[_BIAS] += wander * matrix[_BIAS]
    floored = np.asarray(np.linalg.solve(never_better, matrix), dtype=np.float64)
    return Information(floored, floored @ (extra + unknowns))


def _smooth(x: FloatArray, coarse: _Coarse, time_constant_s: float) -> FloatArray:
    return smooth(
        x,
        rate_hz=coarse.rate_hz,
        time_constant_s=time_constant_s,
        weight=coarse.weight,
        parts=coarse.parts,
    )


def _slopes(x: FloatArray, coarse: _Coarse) -> FloatArray:
    """Return central differences, shape (3, K), 0 at both ends of each part."""
    slope = np.zeros_like(x)
    slope[:, 1:-1] = 0.5 * (x[:, 2:] - x[:, :-2])
    for start, stop in coarse.parts:
        slope[:, start] = slope[:, stop - 1] = 0.0
    return slope
