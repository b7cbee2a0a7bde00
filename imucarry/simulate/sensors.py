"""A worn sensor: its mounting, its errors and its own clock."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.interpolate import CubicSpline
from scipy.spatial.transform import Rotation

from imucarry.basics.records import BoolArray, FloatArray, IndexRanges, Recording
from imucarry.basics.units import RAD_PER_DEG, STANDARD_GRAVITY_MPS2
from imucarry.simulate.gait import FINE_HZ

BRIDGED_S = 0.1
"""Gaps up to this length are bridged silently; longer ones are listed."""


@dataclass(frozen=True, slots=True)
class Sensor:
    """What a sensor is and how it is worn.

    Attributes
    ----------
    placement : str
    rate_hz : float
        Up to 200.
    mounting_deg : tuple of 3 floats
        Rotation vector from the segment's axes to the sensor's.
    acc_noise_mps2_rthz, gyr_noise_degps_rthz : float
        Noise densities.
    acc_bias_mps2, gyr_bias_degps : tuple of 3 floats
    gyr_drift_degps : float
        Spread of the slow change of bias over ten minutes.
    scale_error : tuple of 6 floats
        Relative: three of acceleration, three of rate.
    misalignment_deg : float
        How far each axis is from square, as a spread; drawn from the seed.
    acc_range_g, gyr_range_degps : float
    bits : int
        Of each converter.
    start_s : float
        World time of the first sample.
    clock_offset_s, clock_drift_ppm : float
        What this sensor's clock shows more than the world's, and gains.
    loss_frac : float
        Share of samples lost, in runs.
    mean_rate : bool
        Whether a rate sample is the mean since the last one, not the rate at its instant.
    ringing_frac : float
        How much of the walker's strap and soft tissue ringing this sensor shows.
    """

    placement: str
    rate_hz: float = 100.0
    mounting_deg: tuple[float, float, float] = (0.0, 0.0, 0.0)
    acc_noise_mps2_rthz: float = 0.0015
    gyr_noise_degps_rthz: float = 0.008
    acc_bias_mps2: tuple[float, float, float] = (0.0, 0.0, 0.0)
    gyr_bias_degps: tuple[float, float, float] = (0.0, 0.0, 0.0)
    gyr_drift_degps: float = 0.02
    scale_error: tuple[float, float, float, float, float, float] = (0.0,) * 6
    misalignment_deg: float = 0.3
    acc_range_g: float = 16.0
    gyr_range_degps: float = 2000.0
    bits: int = 16
    start_s: float = 0.0
    clock_offset_s: float = 0.0
    clock_drift_ppm: float = 0.0
    loss_frac: float = 0.0
    mean_rate: bool = False
    ringing_frac: float = 1.0

    def __post_init__(self) -> None:
        if not 10.0 <= self.rate_hz <= FINE_HZ / 2.0:
            raise ValueError(f"a sensor's rate must lie in 10 to {FINE_HZ / 2.0:g} Hz")


def random_sensor(rng: np.random.Generator, placement: str, *, rate_hz: float = 100.0) -> Sensor:
    """Draw a sensor's mounting and errors, of the size of common MEMS devices."""
    x, y, z, w = rng.standard_normal(4)
    half = np.arctan2(np.sqrt(x * x + y * y + z * z), w)
    axis = np.array([x, y, z]) / np.linalg.norm([x, y, z])
    mounting = np.rad2deg(2.0 * half * axis)
    acc_scale = tuple(rng.normal(0.0, 0.004, 3))
    gyr_scale = tuple(rng.normal(0.0, 0.006, 3))
    return Sensor(
        placement=placement,
        rate_hz=rate_hz,
        mounting_deg=_triple(mounting),
        acc_noise_mps2_rthz=rng.uniform(0.001, 0.002),
        gyr_noise_degps_rthz=rng.uniform(0.005, 0.012),
        acc_bias_mps2=_triple(rng.normal(0.0, 0.08, 3)),
        gyr_bias_degps=_triple(rng.normal(0.0, 0.4, 3)),
        gyr_drift_degps=rng.uniform(0.01, 0.04),
        scale_error=(*_triple(acc_scale), *_triple(gyr_scale)),
        misalignment_deg=rng.uniform(0.1, 0.4),
    )


def _triple(values: object) -> tuple[float, float, float]:
    first, second, third = (float(value) for value in np.asarray(values, dtype=float))
    return first, second, third


@dataclass(frozen=True, slots=True)
class Samples:
    """One sensor's recording on its own clock, with the samples that its file lacks."""

    recording: Recording
    lost: BoolArray


def record(
    rng: np.random.Generator, sensor: Sensor, acc_mps2: FloatArray, gyr_radps: FloatArray
) -> Samples:
    """Sample what a segment feels with the sensor's errors.

    Parameters
    ----------
    rng : numpy Generator
    sensor : Sensor
    acc_mps2, gyr_radps : ndarray, shape (N, 3)
        Specific force and rate in the segment's axes, on the fine grid.
    """
    world_s = _sample_times(sensor, acc_mps2.shape[0] / FINE_HZ)
    mounted = Rotation.from_rotvec(np.deg2rad(sensor.mounting_deg)).as_matrix().T
    acc = _sampled(acc_mps2 @ mounted.T, world_s, sensor.rate_hz)
    gyr = _sampled_rate(gyr_radps @ mounted.T, world_s, sensor)
    acc = _with_errors(
        rng, sensor, acc, sensor.scale_error[:3], sensor.acc_bias_mps2, sensor.acc_noise_mps2_rthz
    )
    gyr = _with_errors(
        rng,
        sensor,
        gyr,
        sensor.scale_error[3:],
        _in_radians(sensor.gyr_bias_degps),
        sensor.gyr_noise_degps_rthz * RAD_PER_DEG,
    )
    gyr += _drift(rng, sensor, world_s)
    acc = _converted(acc, sensor.acc_range_g * STANDARD_GRAVITY_MPS2, sensor.bits)
    gyr = _converted(gyr, sensor.gyr_range_degps * RAD_PER_DEG, sensor.bits)
    lost = _lost(rng, sensor, world_s.size)
    stamp = sensor.clock_offset_s + world_s[0] + _gained(sensor, world_s)
    return Samples(_recording(sensor, stamp, acc, gyr, lost), lost)


def _in_radians(values_deg: tuple[float, float, float]) -> tuple[float, float, float]:
    first, second, third = (value * RAD_PER_DEG for value in values_deg)
    return first, second, third


def _sample_times(sensor: Sensor, duration_s: float) -> FloatArray:
    """Return the world times of the samples; a clock that gains samples too fast."""
    period = 1.0 / (sensor.rate_hz * (1.0 + 1e-6 * sensor.clock_drift_ppm))
    n_samples = int((duration_s - sensor.start_s) / period) - 1
    return np.asarray(sensor.start_s + period * np.arange(n_samples))


def _gained(sensor: Sensor, world_s: FloatArray) -> FloatArray:
    """Return the time since the first sample as the sensor's own clock shows it."""
    return np.arange(world_s.size) / sensor.rate_hz


def _band_limited(values: FloatArray, rate_hz: float) -> FloatArray:
    """Return values without what a rate cannot carry: a soft edge below half the rate."""
    n_samples = values.shape[0]
    frequency = np.fft.rfftfreq(n_samples, 1.0 / FINE_HZ)
    edge = np.clip((0.5 * rate_hz - frequency) / (0.1 * rate_hz), 0.0, 1.0)
    gate = 0.5 - 0.5 * np.cos(np.pi * edge)
    return np.fft.irfft(np.fft.rfft(values, axis=0) * gate[:, None], n_samples, axis=0)


def _sampled(values: FloatArray, world_s: FloatArray, rate_hz: float) -> FloatArray:
    grid_s = np.arange(values.shape[0]) / FINE_HZ
    return np.asarray(CubicSpline(grid_s, _band_limited(values, rate_hz))(world_s))


def _sampled_rate(values: FloatArray, world_s: FloatArray, sensor: Sensor) -> FloatArray:
    """Sample the rate at each instant, or its mean since the sample before."""
    if not sensor.mean_rate:
        return _sampled(values, world_s, sensor.rate_hz)
    grid_s = np.arange(values.shape[0]) / FINE_HZ
    turned = CubicSpline(grid_s, _band_limited(values, sensor.rate_hz)).antiderivative()
    period = world_s[1] - world_s[0]
    return np.asarray((turned(world_s) - turned(world_s - period)) / period)


def _with_errors(
    rng: np.random.Generator,
    sensor: Sensor,
    values: FloatArray,
    scale: tuple[float, ...],
    bias: tuple[float, float, float],
    density: float,
) -> FloatArray:
    """Apply scale, misalignment, bias and white noise."""
    slant = np.deg2rad(sensor.misalignment_deg) * rng.standard_normal((3, 3))
    np.fill_diagonal(slant, scale)
    noise = density * np.sqrt(sensor.rate_hz / 2.0) * rng.standard_normal(values.shape)
    return np.asarray(values @ (np.eye(3) + slant).T + np.array(bias) + noise)


def _drift(rng: np.random.Generator, sensor: Sensor, world_s: FloatArray) -> FloatArray:
    """Return a slow random walk of the rate's bias, shape (N, 3) [rad/s]."""
    per_sample = sensor.gyr_drift_degps * RAD_PER_DEG / np.sqrt(600.0 * sensor.rate_hz)
    return np.cumsum(per_sample * rng.standard_normal((world_s.size, 3)), axis=0)


def _converted(values: FloatArray, limit: float, bits: int) -> FloatArray:
    """Clip at the range and round to the converter's step."""
    step = limit / 2.0 ** (bits - 1)
    return np.asarray(np.clip(np.round(values / step) * step, -limit, limit - step))


def _lost(rng: np.random.Generator, sensor: Sensor, n_samples: int) -> BoolArray:
    """Mark lost samples, in runs of 1 to 8; the first and the last sample are never lost."""
    lost = np.zeros(n_samples, dtype=bool)
    mean_run = 4.5
    n_runs = round(sensor.loss_frac * n_samples / mean_run)
    starts = rng.integers(1, max(n_samples - 10, 2), n_runs)
    for start, length in zip(starts, rng.integers(1, 9, n_runs), strict=True):
        lost[start : start + length] = True
    return lost


def _recording(
    sensor: Sensor, stamp_s: FloatArray, acc: FloatArray, gyr: FloatArray, lost: BoolArray
) -> Recording:
    """Return a recording in which lost samples are bridged by straight lines."""
    if lost.any():
        for values in (acc, gyr):
            for k in range(3):
                values[lost, k] = np.interp(stamp_s[lost], stamp_s[~lost], values[~lost, k])
    return Recording(
        placement=sensor.placement,
        rate_hz=sensor.rate_hz,
        time_s=stamp_s,
        acc_mps2=acc,
        gyr_radps=gyr,
        gaps=_long_runs(lost, BRIDGED_S * sensor.rate_hz),
    )


def _long_runs(marks: BoolArray, longest: float) -> IndexRanges:
    """Return the runs that are longer than `longest` samples."""
    edges = np.flatnonzero(np.diff(np.concatenate([[False], marks, [False]]).astype(np.int8)))
    pairs = zip(edges[::2], edges[1::2], strict=True)
    return tuple((int(a), int(b)) for a, b in pairs if b - a > longest)
