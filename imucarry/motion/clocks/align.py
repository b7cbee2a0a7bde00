"""Offset and drift of each sensor's clock, with its standard error, or a refusal."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np

from imucarry.basics.evidence import motion as evidence
from imucarry.basics.records import ClockFit, FloatArray, Notice, Orientation, Recording
from imucarry.basics.settings import MotionSettings
from imucarry.motion.clocks.lags import best_lag, window_lags
from imucarry.motion.clocks.shared import JOLTS, OwnSignals, on_grid, own_signals

_PPM = 1e-6


@dataclass(frozen=True, slots=True)
class Line:
    """Lag of one clock against time: ``lag = middle + drift (t - time)``."""

    time_s: float
    middle_s: float
    drift: float
    sd_s: float  # of the lag, at its worst within the recording


def align_clocks(
    recordings: Sequence[Recording],
    orientations: Sequence[Orientation],
    settings: MotionSettings,
) -> tuple[ClockFit, ...]:
    """Find how each sensor's clock stands to the reference's: the chest's, else the first.

    Parameters
    ----------
    recordings : sequence of Recording
    orientations : sequence of Orientation
        One each.
    settings : MotionSettings
        ``align_clocks`` false: all clocks are taken as they are.

    Returns
    -------
    tuple of ClockFit
        In the order of `recordings`. A clock that the session gives, or that
        was set by a shared event, keeps its offset.
        One whose lag is ambiguous or too uncertain is taken as it is ("assumed"), with
        a notice to check.

    Notes
    -----
    1. Signals that sensors share however they are mounted (`own_signals`).
    2. In stretches of ten minutes, the lag at which all fit best, if one beats
       every other clearly (`best_lag`).
    3. Near it, a lag of each ten seconds from the jolts of contacts (`window_lags`);
       a line through them gives offset and drift, their scatter the standard error.
    """
    if not recordings:
        return ()
    placements = [recording.placement for recording in recordings]
    chosen = placements.index("chest") if "chest" in placements else 0
    rate_hz = evidence.CLOCK_GRID_HZ.value
    reference: OwnSignals | None = None  # worked out once, where it is asked for
    fits: list[ClockFit] = []
    for index, recording in enumerate(recordings):
        if index == chosen:
            fits.append(ClockFit(recording.placement, 0.0, 0.0, 0.0, "reference"))
            continue
        stated = _stated(recording)
        if not settings.align_clocks:
            fits.append(stated or ClockFit(recording.placement, 0.0, 0.0, math.nan, "assumed"))
            continue
        reference = reference or own_signals(recordings[chosen], orientations[chosen], rate_hz)
        found = _fit(reference, own_signals(recording, orientations[index], rate_hz), settings)
        fits.append(found if stated is None else _beside_motion(stated, found, recording))
    return tuple(fits)


def _stated(recording: Recording) -> ClockFit | None:
    """Return the fit of a clock that the session gives, or that an event has set."""
    if recording.clock_is_event:
        sd_s = math.sqrt(1 / 6) / recording.rate_hz  # two readings, each to half a sample
        return ClockFit(recording.placement, 0.0, 0.0, sd_s, "event")
    if recording.clock_is_given:
        return ClockFit(recording.placement, 0.0, 0.0, 0.0, "given")
    return None


def _beside_motion(stated: ClockFit, found: ClockFit, recording: Recording) -> ClockFit:
    """Return a stated clock, with a notice where the motion clearly says another."""
    ends_s = (float(recording.time_s[0]), float(recording.time_s[-1]))
    off_s = [found.offset_s + found.drift_ppm * _PPM * at_s for at_s in ends_s]
    largest_s = max(off_s, key=abs)
    if found.source != "shared_motion" or abs(largest_s) <= evidence.CLOCK_RIVAL_S.value:
        return stated
    notice = Notice(
        code="clock_contradicted",
        message=f"the stated clock of the {stated.placement} sensor is up to {largest_s:+.2f} s "
        "from where the motion it shares with the reference puts it; the stated one is used: "
        "check clock_offset_s, or event_s",
        where=stated.placement,
        severity="check",
    )
    return replace(stated, notices=(notice,))


def on_session_clock(recording: Recording, fit: ClockFit) -> Recording:
    """Return the recording with its times on the session clock; its samples are shared.

    The rate changes with the drift, so that the grid stays uniform.
    """
    if fit.offset_s == 0.0 and fit.drift_ppm == 0.0:
        return recording
    stretch = 1 + fit.drift_ppm * _PPM
    return replace(
        recording,
        time_s=fit.offset_s + stretch * recording.time_s,
        rate_hz=recording.rate_hz / stretch,
    )


# --- one pair ------------------------------------------------------------------


def _fit(leader: OwnSignals, follower: OwnSignals, settings: MotionSettings) -> ClockFit:
    rate_hz = evidence.CLOCK_GRID_HZ.value
    pair = (leader.recording, follower.recording)
    start_s = min(float(recording.time_s[0]) for recording in pair)
    end_s = max(float(recording.time_s[-1]) for recording in pair)
    grid_s = start_s + np.arange(max(2, math.ceil((end_s - start_s) * rate_hz))) / rate_hz
    reference, other = on_grid(leader, grid_s), on_grid(follower, grid_s)
    rough = _rough_line(reference, other, rate_hz, settings)
    placement = pair[1].placement
    if rough is None:
        most_s = settings.clock_largest_offset_s
        return _refused(
            placement,
            "clock_ambiguous",
            f"several offsets fit alike, or they are more than {most_s:g} s apart",
        )
    line = _fine_line(reference, other, rate_hz, rough)
    if line is None or line.sd_s > settings.clock_largest_sd_s:
        return _refused(
            placement,
            "clock_uncertain",
            "the motion they share tells too little",
        )
    return _as_fit(placement, line, start_s, end_s)


def _rough_line(
    reference: FloatArray, other: FloatArray, rate_hz: float, settings: MotionSettings
) -> Line | None:
    """Return the lag of each stretch that shows one clearly, joined to a line."""
    n_chunk = round(evidence.CLOCK_CHUNK_S.value * rate_hz)
    n_chunks = max(1, round(reference.shape[1] / n_chunk))
    edges = [reference.shape[1] * index // n_chunks for index in range(n_chunks + 1)]
    times, lags = [], []
    for first, last in pairwise(edges):
        ours, theirs = _alone(reference[:, first:last]), _alone(other[:, first:last])
        if ours is None or theirs is None:
            continue
        match = best_lag(ours, theirs, rate_hz, settings.clock_largest_offset_s)
        # Clocks are either set together or far apart: a best lag near 0 needs less proof.
        near_zero = abs(match.lag_s) <= 0.5 * evidence.CLOCK_RIVAL_S.value
        least = evidence.CLOCK_NEAR_Z.value if near_zero else evidence.CLOCK_CLEAR_Z.value
        if match.clear_z >= least:
            times.append(0.5 * (first + last) / rate_hz)
            lags.append(match.lag_s)
    if not times:
        return None
    return _through_most(np.array(times), np.array(lags))


def _alone(signal: FloatArray) -> FloatArray | None:
    """Return one stretch of the shared signals about its own mean; none without motion."""
    # What is left of a long level would fit best where the ends of stretches meet.
    centred = signal - signal.mean(axis=1, keepdims=True)
    moving = math.sqrt(float((centred[JOLTS] ** 2).mean())) > evidence.CLOCK_LEAST_JOLTS.value
    return centred if moving else None


def _through_most(time_s: FloatArray, lag_s: FloatArray) -> Line | None:
    """Return the line of plausible drift that most lags lie on, none if no majority does."""
    largest = evidence.CLOCK_LARGEST_DRIFT_PPM.value * _PPM
    within_s = 0.5 * evidence.CLOCK_RIVAL_S.value
    best: tuple[int, float, float] = (0, 0.0, 0.0)
    # The smallest drifts first: nothing that comes after all lags lie on a line is better.
    for tried in sorted(np.linspace(-largest, largest, 81).tolist(), key=abs):
        if best[0] == time_s.size:
            break
        level = lag_s - tried * time_s
        near = np.abs(level[:, None] - level[None, :]) <= within_s
        index = int(near.sum(axis=1).argmax())
        count = int(near[index].sum())
        if count > best[0]:
            best = (count, tried, float(np.median(level[near[index]])))
    count, drift, level_s = best
    if 2 * count <= time_s.size:
        return None
    return Line(time_s=0.0, middle_s=level_s, drift=drift, sd_s=within_s)


def _fine_line(
    reference: FloatArray, other: FloatArray, rate_hz: float, rough: Line
) -> Line | None:
    """Fit a line to the lags of short windows, weighted by how well each fits.

    Notes
    -----
    Lags farther than three times the usual scatter from the line are left out, and
    the line is fitted again, three times. The standard error comes from the
    scatter that remains, and never falls below what the body itself blurs.
    """
    window = round(evidence.CLOCK_WINDOW_S.value * rate_hz)
    n_windows = reference.shape[1] // window
    time_s = (np.arange(n_windows) + 0.5) * window / rate_hz
    line = rough
    for _ in range(3):
        expected = line.middle_s + line.drift * (time_s - line.time_s)
        lag_s, weight = window_lags(reference, other, rate_hz, expected)
        used = np.isfinite(lag_s)
        if used.sum() < 3:
            return None
        away = np.abs(lag_s - expected)
        used &= away <= max(3 * 1.4826 * float(np.nanmedian(away)), 1 / rate_hz)
        refined = _weighted_line(time_s[used], lag_s[used], weight[used])
        if refined is None:
            return None
        line = refined
    return line


def _weighted_line(time_s: FloatArray, lag_s: FloatArray, weight: FloatArray) -> Line | None:
    """Fit lag against time, the drift held to what clocks do by a mild pull to zero."""
    total = float(weight.sum())
    if time_s.size < 3 or total <= 0:
        return None
    centre = float(weight @ time_s) / total
    spread = float(weight @ (time_s - centre) ** 2)
    middle = float(weight @ lag_s) / total
    slope = float(weight @ ((time_s - centre) * (lag_s - middle))) / max(spread, 1e-12)
    residual = lag_s - middle - slope * (time_s - centre)
    n_effective = total**2 / float(weight @ weight)
    scatter2 = float(weight @ residual**2) / total * n_effective / max(n_effective - 2, 1.0)
    middle_var = scatter2 / n_effective
    slope_var = middle_var * total / max(spread, 1e-12)
    prior_var = (0.5 * evidence.CLOCK_LARGEST_DRIFT_PPM.value * _PPM) ** 2
    keep = prior_var / (prior_var + slope_var)
    reach = float(np.abs(time_s - centre).max())
    blur2 = evidence.CLOCK_BODY_SD_S.value**2
    sd_s = math.sqrt(middle_var + keep * slope_var * reach**2 + blur2)
    return Line(time_s=centre, middle_s=middle, drift=keep * slope, sd_s=sd_s)


def _as_fit(placement: str, line: Line, start_s: float, end_s: float) -> ClockFit:
    """Return the fit, or none where the clocks agree within its error."""
    offset_s = line.middle_s - line.drift * (line.time_s + start_s)
    at_ends = [abs(offset_s + line.drift * at_s) for at_s in (start_s, end_s)]
    if max(at_ends) <= evidence.CLOCK_DIFFERENT_Z.value * line.sd_s:
        return ClockFit(placement, 0.0, 0.0, line.sd_s, "shared_motion")
    # The lag was measured against session time t, and is applied to the sensor's own
    # time s: t = s + offset + drift t, solved for t.
    offset_s, drift_ppm = offset_s / (1 - line.drift), line.drift / (1 - line.drift) / _PPM
    notice = Notice(
        code="clock_moved",
        message=f"the clock of the {placement} sensor was moved by {offset_s:+.3f} s and "
        f"{drift_ppm:+.0f} ppm, from the motion it shares with the reference",
        where=placement,
    )
    return ClockFit(placement, offset_s, drift_ppm, line.sd_s, "shared_motion", (notice,))


def _suffers(placement: str) -> str:
    """Return what a clock that may be off makes worse."""
    arm = placement.removesuffix("_wrist")
    return f"The phases of the {arm} arm are not told, and its swing may be off."


def _refused(placement: str, code: str, reason: str) -> ClockFit:
    notice = Notice(
        code=code,
        message=f"its clock could not be matched to that of the other sensors ({reason}). "
        f"{_suffers(placement)} If one device stamped all sensors, write clock_offset_s = 0 for "
        "it; else tap all sensors together at the start and the end next time.",
        where=placement,
        severity="check",
    )
    return ClockFit(placement, 0.0, 0.0, math.nan, "assumed", (notice,))
