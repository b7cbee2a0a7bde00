"""The gyroscope's bias, from rest and from how gravity drifts in the integrated frame."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from imucarry.basics.evidence import motion as evidence
from imucarry.basics.records import BoolArray, FloatArray, IndexRanges, IntArray
from imucarry.basics.settings import MotionSettings
from imucarry.basics.units import RAD_PER_DEG, STANDARD_GRAVITY_MPS2
from imucarry.motion import rotations, signals
from imucarry.motion.orientation.integrate import Blocks
from imucarry.motion.orientation.level import smooth, undo_bias

# The second time starts from a frame that hardly drifts any more; a third changes nothing.
_N_TIMES = 2


@dataclass(frozen=True, slots=True)
class Information:
    """What one source says about the bias: ``matrix @ bias = vector`` as precisions."""

    matrix: FloatArray  # (3, 3) [s^2/rad^2]
    vector: FloatArray  # (3,) [s/rad]


def fit_bias(
    blocks: Blocks,
    still: BoolArray,
    weight: FloatArray,
    parts: IndexRanges,
    settings: MotionSettings,
) -> tuple[FloatArray, float]:
    """Estimate a constant gyroscope bias by weighted least squares.

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
    bias_radps : ndarray, shape (3,) [rad/s]
    sd_radps : float [rad/s]
        Standard error in the direction that is known least.

    Notes
    -----
    Three sources are added up by their precision:
    1. rest: the mean rate is the bias (`rest_information`);
    2. drift: a bias turns the smoothed vertical of the integrated frame
       (`drift_information`), also without any rest;
    3. that gyroscopes are near zero, which decides only what 1 and 2 leave open.
    The fit is made twice, the second time in the frame that the first one corrected.
    """
    rest = rest_information(blocks, still & (weight > 0))
    near_zero = np.eye(3) / (settings.bias_prior_degps * RAD_PER_DEG) ** 2
    coarse = _coarse(blocks, weight, parts)
    wander_radps = evidence.STILL_BIAS_DEGPS.value * RAD_PER_DEG
    floor_radps = math.hypot(wander_radps, evidence.BIAS_SCALE_FRAC.value * _rms(blocks, weight))
    bias: FloatArray = np.zeros(3)
    for _ in range(_N_TIMES):
        drift = drift_information(coarse, bias, settings.tilt_time_constant_s, floor_radps)
        precision = drift.matrix + rest.matrix + near_zero
        bias = np.asarray(np.linalg.solve(precision, drift.vector + rest.vector), np.float64)
    sd_radps = 1 / math.sqrt(float(np.linalg.eigvalsh(precision)[0]))
    return bias, sd_radps


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
    n_blocks = (stops - starts)[:, None]
    rough = blocks.gyr_radps[starts[0]]  # near enough that squares keep their digits
    rate = blocks.gyr_radps - rough
    mean = _sums(rate, starts, stops) / n_blocks
    variance = (_sums(rate * rate, starts, stops) / n_blocks - mean * mean).mean(axis=1)
    length_s = n_blocks[:, 0] / blocks.rate_hz
    floor = (evidence.STILL_BIAS_DEGPS.value * RAD_PER_DEG) ** 2
    precision = 1 / (np.maximum(variance, 0) / length_s + floor)
    away = np.abs(mean - np.sort(mean, axis=0)[mean.shape[0] // 2]).max(axis=1)
    slow_turn = away > evidence.REST_OUTLIER_DEGPS.value * RAD_PER_DEG
    precision[slow_turn & (away * np.sqrt(precision) > evidence.REST_OUTLIER_Z.value)] = 0.0
    # The floor is a wander that all pieces share: together they know no better than it.
    total = precision.sum()
    if total == 0.0:
        return Information(np.zeros((3, 3)), np.zeros(3))
    best = rough + (precision @ mean) / total
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
    running = np.zeros((x.shape[0] + 1, x.shape[1]))
    np.cumsum(x, axis=0, out=running[1:])
    return np.asarray(running[stops] - running[starts])


# --- drift ---------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Coarse:
    """Block means again, about one a second."""

    rate_hz: float
    acc_world_mps2: FloatArray
    to_world: FloatArray
    weight: FloatArray
    parts: IndexRanges


def _coarse(blocks: Blocks, weight: FloatArray, parts: IndexRanges) -> _Coarse:
    n = signals.block_length(weight.size, blocks.rate_hz, evidence.BIAS_RATE_HZ.value)
    n_coarse = weight.size // n
    edges = [min(round(stop / n), n_coarse) for _, stop in parts]
    edges[-1] = n_coarse
    cut = zip([0, *edges[:-1]], edges, strict=True)
    return _Coarse(
        rate_hz=blocks.rate_hz / n,
        acc_world_mps2=signals.block_means(blocks.acc_world_mps2, n),
        to_world=signals.block_means(blocks.to_world, n),
        weight=signals.block_means(weight, n),
        parts=tuple((start, stop) for start, stop in cut if stop > start),
    )


def drift_information(
    coarse: _Coarse, bias_radps: FloatArray, time_constant_s: float, floor_radps: float
) -> Information:
    """Fit the bias to the drift of the smoothed vertical.

    Notes
    -----
    1. Take out the bias known so far (`undo_bias`).
    2. In the remaining drift the vertical g turns with ``g' = (R b) x g``, R the
       rotation matrix and b the remaining bias: three linear equations a second.
    3. Both sides are smoothed alike, which leaves the equations true and rids
       them of the wearer's accelerations.
    4. Precision from the residuals, one independent value each two time constants;
       never better than `floor_radps`.
    """
    to_world, acc = coarse.to_world, coarse.acc_world_mps2
    if bias_radps.any():
        back = undo_bias(to_world, bias_radps, coarse.rate_hz)
        to_world, acc = rotations.to_matrix(back) @ to_world, rotations.rotate(back, acc)
    vertical = _smooth(acc, coarse, time_constant_s) / STANDARD_GRAVITY_MPS2
    # Column j: what a bias about sensor axis j does to the vertical.
    turning = -rotations.cross(vertical[:, None, :], np.swapaxes(to_world, 1, 2))
    effect = np.swapaxes(_smooth(turning, coarse, time_constant_s), 1, 2)
    drift = _slopes(vertical, coarse) * coarse.rate_hz
    weighted = effect * coarse.weight[:, None, None]
    normal = np.einsum("kij,kil->jl", weighted, effect)
    right = np.einsum("kij,ki->j", weighted, drift)
    # Directions that gravity says nothing about are left to the other sources.
    ridge = np.finfo(np.float64).eps * (np.trace(normal) + 1.0) * np.eye(3)
    extra = np.linalg.solve(normal + ridge, right)
    residual = drift - effect @ extra
    variance = float(np.einsum("k,ki,ki->", coarse.weight, residual, residual))
    variance /= 3 * max(float(coarse.weight.sum()), 1.0)
    share = 1 / max(2 * time_constant_s * coarse.rate_hz, 1.0)
    matrix = normal * share / (variance + np.finfo(np.float64).eps)
    floored = np.linalg.solve(np.eye(3) + floor_radps**2 * matrix, matrix)
    return Information(floored, floored @ (extra + bias_radps))


def _smooth(x: FloatArray, coarse: _Coarse, time_constant_s: float) -> FloatArray:
    return smooth(
        x,
        rate_hz=coarse.rate_hz,
        time_constant_s=time_constant_s,
        weight=coarse.weight,
        parts=coarse.parts,
    )


def _slopes(x: FloatArray, coarse: _Coarse) -> FloatArray:
    """Return central differences, 0 at both ends of each part (see `_inner_weight`)."""
    slope = np.zeros_like(x)
    slope[1:-1] = 0.5 * (x[2:] - x[:-2])
    for start, stop in coarse.parts:
        slope[start] = slope[stop - 1] = 0.0
    return slope


def _rms(blocks: Blocks, weight: FloatArray) -> float:
    rate = np.ascontiguousarray(blocks.gyr_radps.T)
    rate = rate - rate.mean(axis=1, keepdims=True)
    return math.sqrt(float(((rate * rate) @ weight).sum()) / max(float(weight.sum()), 1.0))
