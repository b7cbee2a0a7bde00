"""The constant errors of a gyroscope, by weighted least squares from all that is known."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from imucarry.basics.evidence import motion as evidence
from imucarry.basics.records import BoolArray, FloatArray, IndexRanges, IntArray
from imucarry.basics.settings import MotionSettings
from imucarry.basics.units import RAD_PER_DEG
from imucarry.motion import signals
from imucarry.motion.orientation.drift import (
    BIAS,
    N_UNKNOWNS,
    OFFSET,
    SCALE,
    Equations,
    coarse_blocks,
    drift_equations,
)
from imucarry.motion.orientation.integrate import Blocks
from imucarry.motion.orientation.jumps import Jumps

# Each time starts from a frame that drifts less; most recordings need one or two.
_N_TIMES = 4
# Rounds in search of the residual variance, and the change that ends them sooner.
_N_ROUNDS, _ENOUGH_FRAC = 10, 0.01


@dataclass(frozen=True, slots=True)
class RateErrors:
    """What a gyroscope reads too much: ``bias + scale @ rate``.

    Attributes
    ----------
    bias_radps : ndarray, shape (3,) [rad/s]
    scale : ndarray, shape (3, 3) [1]
        On the diagonal errors of scale, beside it those of alignment.
    bias_sd_radps : float [rad/s]
        Standard error of the bias in the direction that is known least, together with
        how far it moved from rest to rest.
    unexplained_radps : float [rad/s]
        How fast gravity still drifts in the integrated frame, root mean square.
    """

    bias_radps: FloatArray
    scale: FloatArray
    bias_sd_radps: float
    unexplained_radps: float


@dataclass(frozen=True, slots=True)
class _Known:
    """What is known of each unknown (`drift`) before the drift is looked at, shapes (U,)."""

    mean: FloatArray
    precision: FloatArray


def fit_errors(
    blocks: Blocks,
    still: BoolArray,
    weight: FloatArray,
    parts: IndexRanges,
    jumps: Jumps,
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
    jumps : Jumps
        What may have turned within filled gaps.
    settings : MotionSettings

    Returns
    -------
    RateErrors

    Notes
    -----
    Three sources are added up by their precision:
    1. that sensors are near zero and nearly right in scale;
    2. rest: the mean rate is the bias (`bias_at_rest`);
    3. drift: an error turns the smoothed vertical of the integrated frame
       (`drift_equations`), also without any rest.
    Where a fit moves the bias, as without any rest, it is made once more, in the frame
    that this one corrected.
    """
    rest = bias_at_rest(blocks, still & (weight > 0))
    known = _beforehand(settings, rest)
    coarse = coarse_blocks(blocks, weight, parts, jumps)
    enough = evidence.BIAS_MOVED_DEGPS.value * RAD_PER_DEG
    unknowns = known.mean
    for _ in range(_N_TIMES):
        equations = drift_equations(coarse, unknowns, settings.tilt_time_constant_s)
        left = _residual_variance(known, equations)
        before, (unknowns, spread) = unknowns, _combined(known, equations, left)
        if np.abs(unknowns - before)[BIAS].max() < enough:
            break
    variance = float(np.linalg.eigvalsh(spread[BIAS, BIAS])[-1])
    return RateErrors(
        bias_radps=unknowns[BIAS],
        scale=unknowns[SCALE].reshape(3, 3),
        bias_sd_radps=math.sqrt(variance + rest.moved_radps**2),
        unexplained_radps=math.sqrt(left),
    )


def _beforehand(settings: MotionSettings, rest: Rest) -> _Known:
    """Add what rest says of the bias to what is known of any small sensor."""
    sd = np.empty(N_UNKNOWNS)
    sd[BIAS] = settings.bias_prior_degps * RAD_PER_DEG
    sd[SCALE] = evidence.RATE_SCALE_SD_FRAC.value
    sd[OFFSET] = evidence.ACC_OFFSET_SD_FRAC.value
    mean, total = np.zeros(N_UNKNOWNS), sd**-2.0
    total[BIAS] += rest.precision
    mean[BIAS] = rest.bias_radps * rest.precision / total[BIAS]
    return _Known(mean, total)


def _combined(
    known: _Known, equations: Equations, residual_variance: float
) -> tuple[FloatArray, FloatArray]:
    """Return the unknowns, shape (U,), and their covariance, shape (U, U).

    Notes
    -----
    The drift never knows a bias better than that wanders: its information M becomes
    ``(I + W M)^-1 M`` with the wander's variance W. Both sides of the sum with what is
    known are multiplied by ``I + W M``, so that no information is inverted alone.
    """
    wander = (evidence.STILL_BIAS_DEGPS.value * RAD_PER_DEG) ** 2
    per_value = 1 / (residual_variance + wander)
    matrix, vector = equations.normal * per_value, equations.right * per_value
    blurred = np.eye(vector.size)
    blurred[BIAS] += wander * matrix[BIAS]
    vector += blurred @ (known.precision * known.mean)
    right = np.concatenate([blurred, vector[:, None]], axis=1)
    solved = np.linalg.solve(matrix + blurred * known.precision, right)
    return solved[:, -1], solved[:, :-1]


def _residual_variance(known: _Known, equations: Equations) -> float:
    """Return the variance of what the unknowns leave of the drift, a value.

    Notes
    -----
    A fit of more unknowns than a short recording determines leaves nothing, and would
    look certain. As in MacKay 1992 (Neural Computation 4:415-447) the residual is that
    of the fit together with what is known beforehand, and its variance is raised by the
    number of unknowns that the drift really determines; both hang on the variance
    itself, so that it is found by rounds, from the largest possible one down.
    """
    sd = known.precision**-0.5
    strengths, axes = np.linalg.eigh(equations.normal * (sd[:, None] * sd))
    # About what is known, in units of its spread, along axes that do not mix.
    offset = equations.right - equations.normal @ known.mean
    pulls = (sd * offset) @ axes
    total = equations.total - float((equations.right + offset) @ known.mean)
    along = list(zip(strengths.tolist(), pulls.tolist(), strict=True))
    variance = total / equations.n_values
    for _ in range(_N_ROUNDS):
        if not variance > 0:
            return 0.0
        residual, n_determined = total, 0.0
        for strength, pull in along:
            best = pull / (strength + variance)
            residual -= (2 * pull - strength * best) * best
            n_determined += strength / (strength + variance)
        before, variance = variance, (residual + variance * n_determined) / equations.n_values
        if abs(variance - before) < _ENOUGH_FRAC * before:
            break
    return max(variance, 0.0)


# --- rest ----------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Rest:
    """What rest says of the bias.

    Attributes
    ----------
    precision : float [(rad/s)^-2]
        Of each axis; 0 without rest.
    bias_radps : ndarray, shape (3,) [rad/s]
    moved_radps : float [rad/s]
        Standard deviation of its trend over the rests, as by warmth, where that is clear;
        of the axis on which it is greatest.
    """

    precision: float
    bias_radps: FloatArray
    moved_radps: float = 0.0


def bias_at_rest(blocks: Blocks, still: BoolArray) -> Rest:
    """Weigh the mean rates of short pieces of rest.

    Notes
    -----
    A piece's mean has the variance of its blocks over its length in seconds: sway
    of a standing person changes within about a second. Pieces that turn slowly
    show by their distance from the median and are left out.
    """
    starts, stops = _pieces(still, blocks.rate_hz)
    if starts.size == 0:
        return Rest(0.0, np.zeros(3))
    n_blocks = stops - starts
    rough = blocks.gyr_radps[:, starts[0], None]  # near enough that squares keep their digits
    rate = blocks.gyr_radps - rough
    mean = _sums(rate, starts, stops) / n_blocks
    variance = (_sums(rate * rate, starts, stops) / n_blocks - mean * mean).mean(axis=0)
    length_s = n_blocks / blocks.rate_hz
    floor = (evidence.STILL_BIAS_DEGPS.value * RAD_PER_DEG) ** 2
    precision = 1 / (np.maximum(variance, 0) / length_s + floor)
    moved_radps = _moved(mean, (starts + stops) / (2 * blocks.rate_hz), precision)
    away = np.abs(mean - np.sort(mean)[:, mean.shape[1] // 2, None]).max(axis=0)
    slow_turn = away > evidence.REST_OUTLIER_DEGPS.value * RAD_PER_DEG
    precision[slow_turn & (away * np.sqrt(precision) > evidence.REST_OUTLIER_Z.value)] = 0.0
    # The floor is a wander that all pieces share: together they know no better than it.
    total = precision.sum()
    if total == 0.0:
        return Rest(0.0, np.zeros(3), moved_radps)
    best = rough[:, 0] + (mean @ precision) / total
    return Rest(float(1 / (1 / total + floor)), best, moved_radps)


def _moved(mean_radps: FloatArray, time_s: FloatArray, precision: FloatArray) -> float:
    """Return the standard deviation of the bias' trend beyond twice its error.

    Of P pieces of rest, shapes (3, P), (P,) and (P,). A person who stands sways and turns a
    little from piece to piece; a sensor that warms goes on in one direction.
    """
    n_free = time_s.size - 2
    weight = precision / precision.sum()
    apart_s = time_s - weight @ time_s
    spread_s2 = float(weight @ apart_s**2)
    if n_free < 1 or spread_s2 == 0.0:
        return 0.0
    slope = (mean_radps @ (weight * apart_s)) / spread_s2
    left = mean_radps - (mean_radps @ weight)[:, None] - slope[:, None] * apart_s
    variance = (left**2 @ weight) * time_s.size / n_free
    of_slope = variance * float(weight @ weight) / spread_s2
    return math.sqrt(max(float((slope**2 - 4.0 * of_slope).max()) * spread_s2, 0.0))


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
