"""Sensor errors have the size that was asked for; clocks and losses are as told."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from perfect_sensor import perfect

from imucarry.simulate.gait import FINE_HZ
from imucarry.simulate.sensors import Samples, Sensor, record

N_FINE = round(120 * FINE_HZ)
PLAIN = perfect(Sensor("chest", rate_hz=100.0))


def recorded(sensor: Sensor, *, acc: float = 1.0, gyr: float = 0.5) -> Samples:
    rng = np.random.default_rng(0)
    return record(rng, sensor, np.full((N_FINE, 3), acc), np.full((N_FINE, 3), gyr))


def test_noise_has_its_density() -> None:
    sensor = replace(PLAIN, acc_noise_mps2_rthz=0.002, gyr_noise_degps_rthz=0.01)
    found = recorded(sensor).recording
    # White noise up to half the rate: density times the root of 50 Hz.
    assert found.acc_mps2.std(axis=0) == pytest.approx(0.002 * np.sqrt(50.0), rel=0.03)
    expected = np.deg2rad(0.01) * np.sqrt(50.0)
    assert found.gyr_radps.std(axis=0) == pytest.approx(expected, rel=0.03)


def test_bias_and_scale() -> None:
    sensor = replace(
        PLAIN, gyr_bias_degps=(1.0, 0.0, -2.0), scale_error=(0.01, 0.0, 0.0, 0.0, 0.02, 0.0)
    )
    found = recorded(sensor).recording
    np.testing.assert_allclose(found.acc_mps2[50], [1.01, 1.0, 1.0], atol=1e-6)
    bias = np.deg2rad([1.0, 0.0, -2.0])
    np.testing.assert_allclose(found.gyr_radps[50], np.array([0.5, 0.51, 0.5]) + bias, atol=1e-6)


def test_range_clips_and_converter_rounds() -> None:
    sensor = replace(PLAIN, bits=8, acc_range_g=2.0)
    step = 2.0 * 9.80665 / 128.0
    found = recorded(sensor, acc=1.0).recording.acc_mps2[50, 0]
    assert found == pytest.approx(round(1.0 / step) * step)
    clipped = recorded(sensor, acc=50.0).recording.acc_mps2
    assert clipped.max() == pytest.approx(2.0 * 9.80665 - step)


def test_clock_offset_and_drift() -> None:
    sensor = replace(PLAIN, start_s=2.0, clock_offset_s=0.5, clock_drift_ppm=100.0)
    time_s = recorded(sensor).recording.time_s
    assert time_s[0] == pytest.approx(2.5)
    # 118 s of the world, 100 parts in a million more on this clock.
    assert time_s[-1] - time_s[0] == pytest.approx(118.0 * 1.0001, abs=0.03)
    assert time_s.size == pytest.approx(11801, abs=2)


def test_lost_samples_are_bridged_and_told() -> None:
    found = recorded(replace(PLAIN, loss_frac=0.05))
    assert found.lost.mean() == pytest.approx(0.05, abs=0.02)
    np.testing.assert_allclose(found.recording.acc_mps2, 1.0, atol=1e-6)


def test_mean_rate_lags_by_half_a_sample() -> None:
    time_s = np.arange(N_FINE) / FINE_HZ
    wave = np.sin(2.0 * np.pi * time_s)[:, None] * np.ones(3)
    one, other = (
        record(np.random.default_rng(0), sensor, wave, wave).recording
        for sensor in (PLAIN, replace(PLAIN, mean_rate=True))
    )
    late = np.interp(other.time_s - 0.005, one.time_s, one.gyr_radps[:, 0])
    np.testing.assert_allclose(other.gyr_radps[200:-200, 0], late[200:-200], atol=2e-3)


@pytest.mark.parametrize("rate_hz", [5.0, 400.0])
def test_a_rate_that_cannot_be_simulated_is_refused(rate_hz: float) -> None:
    with pytest.raises(ValueError, match="rate"):
        Sensor("chest", rate_hz=rate_hz)
