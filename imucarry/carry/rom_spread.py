"""How far repeated readings of one sitting scatter."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from imucarry.basics.evidence import carry as evidence
from imucarry.basics.records import FloatArray, Notice, RomReading

SCATTERED = "rom_readings_scatter"


def sets_of(readings: Sequence[RomReading]) -> list[FloatArray]:
    """Return the readings of each side, time and bout [deg]."""
    sets: dict[tuple[str, str, str], list[float]] = {}
    for item in readings:
        sets.setdefault((item.side, item.when, item.bout), []).append(item.value_deg)
    return [np.array(values) for _, values in sorted(sets.items())]


def pooled_sd(sets: Sequence[FloatArray]) -> tuple[float, int]:
    """Return the SD pooled within sets of repeats [deg], and its degrees of freedom."""
    squares = sum(float(((item - item.mean()) ** 2).sum()) for item in sets if item.size)
    df = sum(item.size - 1 for item in sets if item.size)
    return (float(np.sqrt(squares / df)) if df else float("nan")), df


def reading_step(readings: Sequence[RomReading], test: str, step_deg: float) -> float:
    """Return the step to which a test was read [deg].

    Parameters
    ----------
    readings : sequence of RomReading
    test : str
        All its sides count.
    step_deg : float [deg]
        Taken, unless ``rom_coarse_readings`` or more are all multiples of the larger
        ``rom_coarse_step_deg``.
    """
    values = np.array([item.value_deg for item in readings if item.test == test])
    coarse = evidence.ROM_COARSE_STEP_DEG.value
    if values.size < evidence.ROM_COARSE_READINGS.value or coarse <= step_deg:
        return step_deg
    multiples = np.abs(values - coarse * np.round(values / coarse)) < 1e-6
    return coarse if multiples.all() else step_deg


def scatter_notices(readings: Sequence[RomReading]) -> tuple[Notice, ...]:
    """Return a check for each test and side whose readings of one sitting lie far apart."""
    found = []
    for test, side in sorted({(item.test, item.side) for item in readings}):
        own = [item for item in readings if (item.test, item.side) == (test, side)]
        apart = max(float(np.ptp(item)) for item in sets_of(own))
        if apart > evidence.ROM_SITTING_APART_DEG.value:
            name = " ".join(part for part in (test.replace("_", " "), side) if part)
            said = f"{name}: readings of one sitting differ by up to {apart:.0f} deg: repeat the " \
                "test"  # fmt: skip
            found.append(Notice(SCATTERED, said, severity="check"))
    return tuple(found)
