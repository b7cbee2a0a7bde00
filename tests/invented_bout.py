"""A bout with known values, made straight as records: no file, no sensor."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from imucarry.basics.records import (
    BoutData,
    BoutRow,
    Contacts,
    Pass,
    Side,
    Strides,
    StrideSwing,
    StrideYaw,
    TrunkMotion,
)
from imucarry.measures.columns import stride_columns

GRID = np.arange(101) / 100.0
FULL = 2.0 * np.pi


def wave(range_deg: NDArray[np.float64], phase_deg: float, harmonic: int = 1) -> np.ndarray:
    """Curves, shape (S, 101) [rad], of a swing that peaks at a phase of the stride."""
    angle = FULL * harmonic * GRID - np.radians(phase_deg)
    return np.radians(range_deg)[:, None] / 2.0 * np.cos(angle)


def make_strides(
    times_s: np.ndarray, right_frac: float, lengths: tuple[int, ...], gap_s: float = 4.0
) -> Strides:
    """Strides of the given times, in passes of the given lengths, none left out."""
    number = np.repeat(np.arange(1, len(lengths) + 1), lengths)
    place = np.concatenate([np.arange(1, n + 1) for n in lengths])
    start = 2.0 + np.concatenate(([0.0], np.cumsum(times_s[:-1]))) + gap_s * (number - 1)
    end = start + times_s
    right = start + right_frac * times_s
    every = np.ones(times_s.size, dtype=bool)
    return Strides(
        start,
        right,
        end,
        end - right,
        right - start,
        number,
        place,
        ~every,
        {},
        every,
        every,
        every,
        every,
    )


def make_yaw(n: int, range_deg: np.ndarray, phase_deg: float, **others: float) -> StrideYaw:
    """Yaw of one harmonic; lean, pitch and the rest as given [deg]."""

    def column(name: str, value: float) -> np.ndarray:
        return np.full(n, np.radians(others.get(name, value)))

    return StrideYaw(
        range_rad=np.radians(range_deg),
        locked_rad=np.radians(range_deg) * 0.9,
        phase_rad=column("phase", phase_deg),
        amplitude_rad=np.radians(range_deg) / 2.0,
        peak_rate_radps=np.radians(np.pi * range_deg),
        floor_rad=column("floor", 1.0),
        lean_rad=column("lean", 2.0),
        lean_range_rad=column("lean_range", 5.0),
        pitch_rad=column("pitch", 4.0),
        curve_rad=wave(range_deg, phase_deg),
    )


def make_swing(
    strides: Strides, range_deg: np.ndarray, phase_deg: float, *, turn_deg: float = 0.0
) -> StrideSwing:
    """Forearm swing of one harmonic that is farthest forward at a phase of the stride."""
    rate = np.pi * np.radians(range_deg) / (strides.end_s - strides.start_s)
    return StrideSwing(
        strides.start_s,
        strides.end_s,
        np.radians(range_deg),
        rate,
        0.8 * rate,
        np.full(rate.size, np.radians(7.0)),
        np.full(rate.size, np.radians(phase_deg)),
        np.radians(range_deg) / 2.0,
        np.radians(range_deg) / 20.0,
        "own motion",
        "chest",
        wave(range_deg, phase_deg),
        wave(np.full(rate.size, turn_deg), 0.0),
    )


def make_trunk(
    strides: Strides, a: float = 0.6, b: float = 1.0, rate_hz: float = 100.0
) -> TrunkMotion:
    """A trunk that repeats each stride, a cos(1) + b cos(2) along every axis, and turns round
    between the passes."""
    time = np.arange(0.0, strides.end_s[-1] + 2.0, 1.0 / rate_hz)
    # Between passes the phase stands still at a whole number of strides.
    edges = np.column_stack((strides.start_s, strides.end_s - 1e-9)).ravel()
    turns = np.column_stack((np.arange(strides.end_s.size),) * 2) + np.array([0.0, 1.0])
    phase = FULL * np.interp(time, edges, turns.ravel())
    signal = a * np.cos(phase) + b * np.cos(2.0 * phase)
    signal[(time < edges[0]) | (time > edges[-1])] = 0.0
    acc = np.stack([signal, signal, signal], axis=1)
    none, ok = np.zeros(time.size), np.ones(time.size, dtype=bool)
    last_s = strides.end_s[np.flatnonzero(np.diff(strides.pass_number))]
    facing = np.pi * np.searchsorted(last_s + 1.0, time)
    return TrunkMotion(
        time,
        rate_hz,
        acc,
        np.zeros_like(acc),
        facing,
        facing.copy(),
        none,
        none.copy(),
        ok,
        ~ok,
        "quiet_standing",
    )


def make_bout(
    n: int = 30,
    *,
    lengths: tuple[int, ...] | None = None,
    stride_s: float = 1.1,
    right_frac: float = 0.5,
    yaw_deg: float = 8.0,
    swing_deg: tuple[float, float] = (40.0, 30.0),
    hold: str = "free",
    loaded: str = "none",
    load_kg: float = float("nan"),
    noise: float = 0.0,
    seed: int = 3,
) -> BoutData:
    """A bout whose values are known; `noise` is a relative scatter of times and ranges."""
    rng = np.random.default_rng(seed)

    def around(value: float) -> np.ndarray:
        return value * (1.0 + noise * rng.standard_normal(n))

    strides = make_strides(around(stride_s), right_frac, lengths or (n,))
    yaw = make_yaw(n, around(yaw_deg), 20.0)
    swing: dict[Side, StrideSwing] = {
        "left": make_swing(strides, around(swing_deg[0]), 190.0),
        "right": make_swing(strides, around(swing_deg[1]), 10.0),
    }
    trunk = make_trunk(strides)
    contacts = Contacts(
        np.sort(np.concatenate((strides.start_s, strides.right_contact_s))),
        np.tile([True, False], n),
        np.repeat(strides.pass_number, 2),
    )
    passes = tuple(
        Pass(
            k,
            float(strides.start_s[strides.pass_number == k][0]),
            float(strides.end_s[strides.pass_number == k][-1]),
        )
        for k in range(1, int(strides.pass_number[-1]) + 1)
    )
    row = BoutRow("b1", 0.0, float(trunk.time_s[-1]), hold, loaded, load_kg)
    columns = stride_columns(trunk, strides, yaw, swing)
    return BoutData(row, 1, trunk, {}, passes, contacts, strides, yaw, swing, columns)


def without_chest(data: BoutData) -> BoutData:
    """The same bout as the wrists alone saw it."""
    nothing, none, number = np.empty(0), np.empty(0, dtype=bool), np.empty(0, dtype=np.int64)
    strides = Strides(
        nothing,
        nothing,
        nothing,
        nothing,
        nothing,
        number,
        number,
        none,
        {},
        none,
        none,
        none,
        none,
    )
    contacts = Contacts(nothing.copy(), none.copy(), number.copy())
    columns = stride_columns(None, strides, None, data.swing)
    return replace(
        data, trunk=None, yaw=None, strides=strides, contacts=contacts, passes=(), columns=columns
    )
