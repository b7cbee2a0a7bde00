"""What the scatter of contact times alone adds to spread and asymmetry of times.

A contact is told from the trunk to about `contact_noise_s` (one standard deviation,
independent between contacts).
"""

from __future__ import annotations

import math

from imucarry.basics.evidence import measures as evidence
from imucarry.basics.settings import MeasureSettings
from imucarry.basics.statistics import normal_quantile
from imucarry.basics.units import DEG_PER_TURN
from imucarry.measures.sample import BoutSample


def interval_noise_s(settings: MeasureSettings) -> float:
    """Return the standard deviation that noise gives the time between two contacts [s]."""
    return math.sqrt(2.0) * settings.contact_noise_s


def asymmetry_noise_pct(n_strides: int, mean_step_s: float, settings: MeasureSettings) -> float:
    """Return the standard deviation that noise gives a bout's step-time asymmetry [%].

    Notes
    -----
    Right less left step time is twice the difference of the mean right and left contact
    times, each the mean of n noisy ones: ``2 sqrt(2 / n)`` times the noise of a contact.
    10 ms a contact give 1.2 points over 20 strides.
    """
    spread_s = 2.0 * math.sqrt(2.0 / n_strides) * settings.contact_noise_s
    return 100.0 * spread_s / mean_step_s


def phase_noise_deg(mean_stride_s: float, settings: MeasureSettings) -> float:
    """Return the standard deviation that noise gives the phase of the right contact [deg].

    The phase is (right - left) / (next left - left); at half a stride the noise of the
    three contacts adds to sqrt(1 + 1/4 + 1/4) of one.
    """
    return DEG_PER_TURN * math.sqrt(1.5) * settings.contact_noise_s / mean_stride_s


def pci_noise_pct(mean_stride_s: float, settings: MeasureSettings) -> float:
    """Return the phase coordination index that noise gives to equal steps [%].

    Spread of the phase over its mean, 180 deg, plus its mean absolute departure, which
    is sqrt(2 / pi) of the spread for normal noise.
    """
    spread = phase_noise_deg(mean_stride_s, settings)
    return 100.0 * spread / 180.0 * (1.0 + math.sqrt(2.0 / math.pi))


def within_noise(value: float, noise: float) -> bool:
    """Whether noise of a standard deviation reaches a value 5 times in 100."""
    return abs(value) <= normal_quantile(0.5 + evidence.INTERVAL_LEVEL.value / 2.0) * noise


def timing_missing(sample: BoutSample) -> str:
    """Return why spread and asymmetry of times are missing, "" when they are not."""
    trunk = sample.data.trunk
    if trunk is None:
        return "no_chest_sensor"
    tolerance = 1.0 - evidence.RATE_TOLERANCE_FRAC.value
    too_low = trunk.rate_hz < sample.settings.least_timing_rate_hz * tolerance
    return "rate_too_low" if too_low else ""
