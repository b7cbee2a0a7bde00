"""An arm's own cycles, for a wrist sensor worn without one on the chest."""

from __future__ import annotations

import numpy as np

from imucarry.basics.evidence import walk as evidence
from imucarry.basics.records import ArmMotion, BoolArray, FloatArray, IndexRanges
from imucarry.basics.settings import WalkSettings
from imucarry.basics.units import RAD_PER_DEG
from imucarry.motion.rotations import conjugate, rotate_each
from imucarry.motion.signals import band_pass, low_pass


def own_cycles(
    arm: ArmMotion, settings: WalkSettings, *, held: bool = False
) -> tuple[FloatArray, FloatArray]:
    """Return the starts and ends of the arm's cycles, shape (S,) each [s].

    Parameters
    ----------
    arm : ArmMotion
    settings : WalkSettings
    held : bool
        Whether the arm holds a load: what moves it for a cycle or two is then the load that
        is lifted or put down, or a turn, and no walking.

    Notes
    -----
    0. All in sensor axes, which a turn of the body does not turn round.
    1. The arm walks where its rate in the stride and step band lasts.
    2. The stride period of such a stretch is the lag at which rate and
       acceleration repeat best.
    3. A cycle begins where the main rate's stride-rate part rises through zero;
       an arm that does not swing at the stride rate gets cycles of equal length.
    """
    if arm.time_s.size < 2 * arm.rate_hz * evidence.STRIDE_SHORTEST_S.value:
        return np.empty(0), np.empty(0)
    rates, acc = (
        _band(values, arm.rate_hz, evidence.ARM_BAND_HZ.value)
        for values in rotate_each(conjugate(arm.quat), (arm.gyr_world_radps, arm.acc_world_mps2))
    )
    edges = [
        _cycle_edges(arm.time_s[a:b], rates[a:b], acc[a:b], arm.rate_hz)
        for a, b in _walking_stretches(rates, arm)
    ]
    trimmed = [_trimmed(item, settings.trim_strides, held=held) for item in edges]
    spans = [_regular(item) for item in trimmed if item.size > 1]
    if not spans:
        return np.empty(0), np.empty(0)
    both = np.concatenate(spans)
    return both[:, 0], both[:, 1]


def _trimmed(edges: FloatArray, n_trim: int, *, held: bool) -> FloatArray:
    """Leave out the first and last cycles of a stretch, where that leaves enough of them.

    Where it does not, a free arm's stay all, and a held arm's are none.
    """
    enough = edges.size - 1 - 2 * n_trim >= evidence.CYCLES_LEAST.value
    if enough:
        return edges[n_trim : edges.size - n_trim]
    return edges[:0] if held else edges


def _regular(edges: FloatArray) -> FloatArray:
    """Return the cycles, shape (S, 2), without those in which a mark was missed or false."""
    length = np.diff(edges)
    low, high = evidence.CYCLE_LENGTH_FRAC.value
    usual = np.median(length)
    return np.column_stack([edges[:-1], edges[1:]])[
        (length > low * usual) & (length < high * usual)
    ]


def _walking_stretches(rates: FloatArray, arm: ArmMotion) -> IndexRanges:
    """Return where the arm's rate in the band lasts, as index ranges.

    Within what moves at all, a stretch is where the arm moves about as much as
    it does in most of it: that cuts off the start and the stop.
    """
    power = low_pass(
        np.sum(rates**2, axis=1), rate_hz=arm.rate_hz, cutoff_hz=evidence.ARM_LASTS_HZ.value
    )
    level = (evidence.ARM_MOVES_DEGPS.value * RAD_PER_DEG) ** 2
    least = int(2 * evidence.STRIDE_SHORTEST_S.value * arm.rate_hz)
    found: list[tuple[int, int]] = []
    for a, b in _runs((power > level) & arm.usable):
        full = power[a:b] > evidence.ARM_FULL_FRAC.value * np.median(power[a:b])
        found += [(a + c, a + d) for c, d in _runs(full) if d - c >= least]
    return tuple(found)


def _runs(marks: BoolArray) -> IndexRanges:
    """Return the half-open index ranges in which `marks` is true."""
    edges = np.flatnonzero(np.diff(np.concatenate([[0], marks.astype(np.int8), [0]])))
    return tuple((int(a), int(b)) for a, b in zip(edges[::2], edges[1::2], strict=True))


def _cycle_edges(
    time_s: FloatArray, rates: FloatArray, acc: FloatArray, rate_hz: float
) -> FloatArray:
    """Return the times at which the cycles of one stretch begin, and its last one's end."""
    period_s = stride_period(np.column_stack([rates, acc / _rms(acc) * _rms(rates)]), rate_hz)
    if not np.isfinite(period_s):
        return np.empty(0)
    main = rates @ np.linalg.eigh(rates.T @ rates)[1][:, -1]
    low, high = evidence.CYCLE_BAND_FRAC.value
    slow = _band(main, rate_hz, (low / period_s, high / period_s))
    if _rms(slow) < evidence.CYCLE_LEAST_FRAC.value * _rms(main):
        return np.arange(time_s[0], time_s[-1], period_s)
    rising = np.flatnonzero((slow[:-1] < 0.0) & (slow[1:] >= 0.0))
    fraction = -slow[rising] / (slow[rising + 1] - slow[rising])
    return np.asarray(time_s[rising] + fraction / rate_hz)


def stride_period(signals: FloatArray, rate_hz: float) -> float:
    """Return the lag at which signals, shape (N, C), repeat best [s]; NaN if nowhere.

    A lag that holds a single step repeats too; the double of it is taken where
    that repeats nearly as well.
    """
    n_samples = signals.shape[0]
    size = 2 * n_samples
    spectrum = np.abs(np.fft.rfft(signals - signals.mean(axis=0), size, axis=0)) ** 2
    raw = np.fft.irfft(spectrum.sum(axis=1), size)[:n_samples]
    repeat = raw / np.arange(n_samples, 0, -1) * n_samples / max(raw[0], np.finfo(float).tiny)
    first = int(evidence.STRIDE_SHORTEST_S.value * rate_hz)
    last = min(int(evidence.STRIDE_LONGEST_S.value * rate_hz), int(0.75 * n_samples))
    lags = np.arange(max(first, 1), last)
    peaks = lags[(repeat[lags] > repeat[lags - 1]) & (repeat[lags] >= repeat[lags + 1])]
    if not peaks.size or repeat[peaks].max() < evidence.REPEAT_LEAST.value:
        return float("nan")
    best = int(peaks[repeat[peaks] >= evidence.REPEAT_FRAC.value * repeat[peaks].max()][0])
    twice = peaks[np.abs(peaks - 2 * best) <= 0.1 * best]
    is_short = best <= evidence.STEP_LONGEST_S.value * rate_hz
    if is_short and twice.size and repeat[twice].max() >= evidence.TWICE_FRAC.value * repeat[best]:
        best = int(twice[np.argmax(repeat[twice])])
    return best / rate_hz


def _band(x: FloatArray, rate_hz: float, edges_hz: tuple[float, float]) -> FloatArray:
    return band_pass(x, rate_hz=rate_hz, low_hz=edges_hz[0], high_hz=edges_hz[1])


def _rms(values: FloatArray) -> float:
    return float(np.sqrt(np.mean(values**2))) or float(np.finfo(float).tiny)
