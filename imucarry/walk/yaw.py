"""Sternum yaw of each stride, with the path's own heading removed."""

from __future__ import annotations

import numpy as np

from imucarry.basics.evidence import walk as evidence
from imucarry.basics.records import BoolArray, FloatArray, Strides, StrideYaw, TrunkMotion
from imucarry.walk.path_heading import without_path
from imucarry.walk.stride_grid import (
    OWN,
    harmonic,
    harmonics,
    peak_phase,
    peak_to_peak,
    quarters_usable,
    sample,
    slope,
    wave,
    window_times,
)


def stride_yaw(trunk: TrunkMotion, strides: Strides) -> StrideYaw:
    """Measure sternum yaw, lean and pitch of each stride.

    Parameters
    ----------
    trunk : TrunkMotion
    strides : Strides

    Returns
    -------
    StrideYaw
        NaN in a turn, where the path cannot be told from the swing, and where a
        gap touches the stride; lean and pitch NaN without quiet standing.
    """
    times = window_times(strides.start_s, strides.end_s)
    usable = quarters_usable(times, trunk.time_s, trunk.usable)
    curve, _ = without_path(sample(times, trunk.time_s, trunk.yaw_rad), usable)
    curve[strides.turning] = np.nan
    swing, step = harmonics(curve, (1, 2))
    rate = slope(curve, strides.end_s - strides.start_s)
    whole = np.asarray(usable[:, 4:8].all(axis=1))
    lean, pitch = (
        _where(whole, sample(times[:, OWN], trunk.time_s, angle))
        for angle in (trunk.lean_rad, trunk.pitch_rad)
    )
    levelled = np.nan if trunk.levelled_in == "bout_mean" else 1.0
    return StrideYaw(
        range_rad=peak_to_peak(curve),
        locked_rad=peak_to_peak(wave(swing, 1) + wave(step, 2)),
        phase_rad=peak_phase(swing),
        amplitude_rad=np.abs(swing),
        peak_rate_radps=_largest(np.abs(rate)),
        floor_rad=_floor(curve, strides.kept_yaw),
        lean_rad=levelled * _mean(lean),
        lean_range_rad=peak_to_peak(lean),
        pitch_rad=levelled * _mean(pitch),
        curve_rad=curve,
    )


def _where(rows: BoolArray, curves: FloatArray) -> FloatArray:
    """Return the curves with NaN in all other rows."""
    return np.where(rows[:, None], curves, np.nan)


def _mean(curves: FloatArray) -> FloatArray:
    """Return the time mean of each curve, shape (S,)."""
    return np.asarray(np.real(harmonic(curves, 0)) / 2.0)


def _largest(curves: FloatArray) -> FloatArray:
    return np.asarray(curves.max(axis=1))


def _floor(curve: FloatArray, kept: BoolArray) -> FloatArray:
    """Return the peak to peak of what is not locked to the stride, shape (S,) [rad].

    That is what differs from the bout's mean curve, made larger by
    sqrt(n / (n - 1)) because the stride is part of that mean.
    """
    used = kept & np.isfinite(curve).all(axis=1)
    n_used = int(used.sum())
    if n_used < evidence.FLOOR_LEAST_STRIDES.value:
        return np.full(curve.shape[0], np.nan)
    left = peak_to_peak(curve - curve[used].mean(axis=0))
    return np.where(used, left * np.sqrt(n_used / (n_used - 1)), np.nan)
