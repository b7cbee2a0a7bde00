"""The path's heading is taken out; what repeats with the stride stays."""

from __future__ import annotations

import numpy as np
import pytest

from imucarry.walk.path_heading import without_path
from imucarry.walk.stride_grid import N_STEPS, OWN, peak_to_peak

PHASE = np.arange(3 * N_STEPS + 1) / N_STEPS - 1.0
ALL = np.ones((1, 12), dtype=bool)


def swing(amplitude=5.0):
    return amplitude * np.cos(2 * np.pi * (PHASE - 0.2)) + 1.5 * np.sin(4 * np.pi * PHASE)


def one(window, usable=ALL):
    curve, error = without_path(window[None, :], usable)
    return curve[0], error[0]


@pytest.mark.parametrize("degree", range(5))
def test_a_path_of_degree_four_leaves_nothing_behind(degree):
    path = 20.0 * PHASE**degree
    curve, error = one(swing() + path)
    expected = swing()[OWN] - swing()[OWN].mean()
    assert np.abs(curve - expected).max() < 1e-8
    assert error < 1e-8


def test_a_turn_in_the_neighbour_does_not_spill_over():
    # 180 deg within about one stride, over 0.3 strides before this one begins
    turned = 90.0 * (1.0 + np.tanh((PHASE + 0.8) / 0.2))
    curve, _ = one(swing() + turned)
    everywhere = peak_to_peak(curve[None])[0]
    assert everywhere == pytest.approx(np.ptp(swing()[OWN]), abs=0.3)


def test_context_that_is_not_usable_is_not_used():
    usable = ALL.copy()
    usable[0, :4] = False
    broken = swing() + 3.0 * PHASE
    broken[: N_STEPS - 1] += 40.0
    curve, _ = one(broken, usable)
    assert np.ptp(curve) == pytest.approx(np.ptp(swing()[OWN]), abs=1e-6)


def test_a_stride_alone_loses_the_line_between_its_ends():
    usable = np.zeros((1, 12), dtype=bool)
    usable[0, 4:8] = True
    curve, error = one(swing() + 7.0 * PHASE, usable)
    assert np.ptp(curve) == pytest.approx(np.ptp(swing()[OWN]), abs=1e-9)
    assert np.isnan(error)


def test_a_stride_that_is_not_usable_is_undefined():
    usable = ALL.copy()
    usable[0, 5] = False
    curve, error = one(swing(), usable)
    assert np.isnan(curve).all()
    assert np.isnan(error)


def test_no_strides():
    curve, error = without_path(np.empty((0, 3 * N_STEPS + 1)), np.empty((0, 12), dtype=bool))
    assert curve.shape == (0, N_STEPS + 1)
    assert error.shape == (0,)


@pytest.mark.parametrize("wander_strides", [1.0, 1.5, 3.0])
def test_swing_that_varies_on_a_wandering_path(wander_strides):
    """Strides that vary by 8 % on a path that wanders by 2 deg: within the goals."""
    rng = np.random.default_rng(7)
    n_strides, reach = 400, int(wander_strides * N_STEPS)
    phase = np.arange(n_strides * N_STEPS + 1) / N_STEPS
    level = 5.0 * (1.0 + 0.08 * rng.standard_normal(n_strides + 1))
    truth = np.interp(phase, np.arange(n_strides + 1), level) * np.cos(2 * np.pi * phase)
    bell = np.exp(-0.5 * (np.arange(-4 * reach, 4 * reach + 1) / reach) ** 2)
    noise = rng.standard_normal(phase.size + bell.size - 1)
    wander = 2.0 * np.convolve(noise, bell / np.linalg.norm(bell), "valid")
    rows = np.arange(1, n_strides - 1)[:, None] * N_STEPS + np.arange(-N_STEPS, 2 * N_STEPS + 1)
    curve, _ = without_path((truth + wander)[rows], np.ones((rows.shape[0], 12), dtype=bool))
    error = peak_to_peak(curve) - peak_to_peak(truth[rows][:, OWN])
    assert np.sqrt(np.mean(error**2)) < 0.2
    assert abs(np.mean(error)) < 0.05
