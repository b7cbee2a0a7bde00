"""Zero-phase filters against scipy's forward-backward ones, block means, rest."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import signal

from imucarry.basics.evidence import motion as evidence
from imucarry.motion import signals


def noise(n: int, columns: int = 2) -> np.ndarray:
    return np.random.default_rng(11).normal(size=(n, columns))


def inner(x: np.ndarray, margin: int) -> np.ndarray:
    return x[margin:-margin]


@pytest.mark.parametrize("rate_hz", [25.0, 100.0, 400.0])
@pytest.mark.parametrize("order", [1, 2, 4])
def test_low_pass_is_butterworth_run_both_ways(rate_hz: float, order: int) -> None:
    x = noise(4000)
    cutoff_hz = rate_hz / 50
    sos = signal.butter(order, cutoff_hz, fs=rate_hz, output="sos")
    want = signal.sosfiltfilt(sos, x, axis=0)
    got = signals.low_pass(x, rate_hz=rate_hz, cutoff_hz=cutoff_hz, order=order)
    # scipy's digital filter bends frequencies a little (bilinear transform), and its
    # ends are continued otherwise: 1 % of the output in the middle.
    assert np.abs(inner(got - want, 400)).max() < 0.01 * np.abs(want).max()


def test_band_pass_keeps_its_band_and_moves_no_peak() -> None:
    rate_hz, n = 100.0, 6000
    time_s = np.arange(n) / rate_hz
    slow, wanted, fast = (np.sin(2 * np.pi * f * time_s) for f in (0.05, 1.0, 20.0))
    got = signals.band_pass(slow + wanted + fast, rate_hz=rate_hz, low_hz=0.3, high_hz=4.0, order=4)
    assert np.abs(inner(got - wanted, 1000)).max() < 0.01


@pytest.mark.parametrize("n", [1, 2, 3, 10, 500])
def test_a_constant_stays_constant_at_any_length(n: int) -> None:
    got = signals.low_pass(np.full((n, 3), 9.8), rate_hz=100.0, cutoff_hz=0.1)
    assert got.shape == (n, 3)
    assert np.allclose(got, 9.8)


def test_shapes_are_kept_and_each_column_is_filtered_alone() -> None:
    x = np.random.default_rng(2).normal(size=(300, 3, 3))
    got = signals.low_pass(x, rate_hz=10.0, cutoff_hz=0.5)
    alone = signals.low_pass(x[:, 1, 2], rate_hz=10.0, cutoff_hz=0.5)
    assert got.shape == x.shape
    assert np.allclose(got[:, 1, 2], alone)


def test_a_long_signal_in_windows_is_the_same_as_in_one(monkeypatch: pytest.MonkeyPatch) -> None:
    x = np.cumsum(noise(20_000, 1), axis=0) * 0.01 + noise(20_000, 1)
    whole = signals.low_pass(x, rate_hz=100.0, cutoff_hz=0.5)
    monkeypatch.setattr(signals, "_WINDOW", 3000)
    parts = signals.low_pass(x, rate_hz=100.0, cutoff_hz=0.5)
    # The answer of the filter has died away to this within the overlap of two periods.
    assert np.abs(parts - whole).max() < 2e-4 * np.abs(x).max()


def test_fast_lengths_hold_small_factors_only() -> None:
    for n in [1, 2, 7, 100, 1021, 4097, 60_001]:
        length = signals.fast_length(n)
        assert n <= length <= max(2, 1.25 * n)
        for factor in (2, 3, 5):
            while length % factor == 0:
                length //= factor
        assert length == 1


def test_block_means_leave_out_the_remainder() -> None:
    x = np.arange(23.0)
    assert signals.block_means(x, 5).tolist() == [2.0, 7.0, 12.0, 17.0]
    both = signals.block_means(np.stack([x, -x], axis=1), 5)
    assert both[:, 1].tolist() == [-2.0, -7.0, -12.0, -17.0]


# --- rest ----------------------------------------------------------------------


def standing_and_walking(
    rate_hz: float, noise_degps: float, bias_degps: float = 0.0
) -> tuple[np.ndarray, np.ndarray, tuple[float, float]]:
    """10 s of breathing and sway, 20 s of walking, 8 s of sway; rest in walking: none."""
    rng = np.random.default_rng(4)
    time_s = np.arange(round(38 * rate_hz)) / rate_hz
    walking = (time_s >= 10) & (time_s < 30)
    gyr_degps = 1.2 * np.sin(2 * np.pi * 0.25 * time_s) + 0.5 * np.sin(2 * np.pi * 0.4 * time_s)
    gyr_degps = np.stack([gyr_degps, 0.6 * gyr_degps, 0.2 * gyr_degps], axis=1) + bias_degps
    gyr_degps[walking] += 25 * np.sin(2 * np.pi * 0.9 * time_s[walking])[:, None]
    gyr_degps += noise_degps * rng.normal(size=gyr_degps.shape)
    acc = np.tile([0.0, 0.0, 9.8], (time_s.size, 1)) + 0.03 * rng.normal(size=gyr_degps.shape)
    acc[walking, 2] += 2 * np.sin(2 * np.pi * 1.8 * time_s[walking])
    return acc, np.deg2rad(gyr_degps), (10.0, 30.0)


def find_rest(acc: np.ndarray, gyr: np.ndarray, *, rate_hz: float) -> signals.IndexRanges:
    n_block = signals.block_length(gyr.shape[0], rate_hz, evidence.BLOCK_RATE_HZ.value)
    still = signals.still_blocks(
        signals.block_means(acc, n_block).T,
        signals.block_means(gyr, n_block).T,
        block_rate_hz=rate_hz / n_block,
        shortest_s=evidence.REST_SHORTEST_S.value,
        gyr_sd_degps=evidence.REST_GYR_DEGPS.value,
        acc_sd_mps2=evidence.REST_ACC_MPS2.value,
    )
    return tuple((a * n_block, b * n_block) for a, b in signals.ranges_of(still))


@pytest.mark.parametrize("rate_hz", [25.0, 50.0, 100.0, 200.0, 400.0])
@pytest.mark.parametrize(("noise_degps", "bias_degps"), [(0.0, 0.0), (0.1, 2.0), (1.0, -4.0)])
def test_quiet_standing_is_rest_and_walking_is_not(
    rate_hz: float, noise_degps: float, bias_degps: float
) -> None:
    acc, gyr, (start_s, stop_s) = standing_and_walking(rate_hz, noise_degps, bias_degps)
    rest = find_rest(acc, gyr, rate_hz=rate_hz)
    mask = signals.mask_of(rest, gyr.shape[0])
    time_s = np.arange(mask.size) / rate_hz
    assert not mask[(time_s > start_s + 0.2) & (time_s < stop_s - 0.2)].any()
    assert mask[time_s < start_s - 0.2].all()
    assert mask[(time_s > stop_s + 0.2) & (time_s < 37.8)].all()


def test_a_pause_shorter_than_asked_is_no_rest() -> None:
    acc, gyr, _ = standing_and_walking(100.0, 0.1)
    cut = slice(900, 3000)  # only one second of standing before the walk
    assert find_rest(acc[cut], gyr[cut], rate_hz=100.0) == ()


def test_a_recording_shorter_than_a_rest_has_none() -> None:
    assert find_rest(np.ones((10, 3)), np.zeros((10, 3)), rate_hz=100.0) == ()


def test_ranges_and_masks_are_inverse() -> None:
    mask = np.array([True, False, True, True, False, False, True])
    assert signals.ranges_of(mask) == ((0, 1), (2, 4), (6, 7))
    assert np.array_equal(signals.mask_of(signals.ranges_of(mask), 7), mask)
    assert signals.ranges_of(np.zeros(3, dtype=bool)) == ()
