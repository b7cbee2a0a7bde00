"""How clearly windows agree: also where they agree in full."""

from __future__ import annotations

import warnings

import numpy as np

from imucarry.motion.clocks.lags import best_lag


def test_signals_that_are_the_same_fit_at_lag_0_without_a_warning() -> None:
    rng = np.random.default_rng(5)
    signals = rng.standard_normal((3, 20_000))
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        match = best_lag(signals, signals.copy(), 20.0, 5.0)
    assert match.lag_s == 0.0
    assert match.clear_z > 10.0
