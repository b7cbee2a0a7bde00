"""Long recordings: memory against their samples, time against their length."""

from __future__ import annotations

import tempfile
from pathlib import Path

import numpy as np
from bench_tools import MEBIBYTE, Row, peak_of

from imucarry.simulate.demo import demo_spec
from imucarry.simulate.session import simulate_session

HOURS = (1 / 6, 1.0, 6.0, 24.0)
COLUMNS = 7
SENSORS = 3
RATE_HZ = 100
BYTES = 8
# The recording is made in the process that is measured, from one visit that is
# repeated; the visit's own arrays are small beside it.
CODE = """
import sys, time
import numpy as np
from imucarry.basics.records import Recording, Session
from imucarry.basics.settings import Settings
from imucarry.pipeline import run
n = int(sys.argv[2])
visit = np.load(sys.argv[1])
placements = ("chest", "left_wrist", "right_wrist")
def worn(name):
    samples = visit[name]
    times = -(-n // len(samples))
    long = np.concatenate([samples] * times)[:n]
    time_s = np.arange(n) / 100.0
    return Recording(name, 100.0, time_s, long[:, :3].copy(), long[:, 3:].copy())
session = Session("P", "1", tuple(worn(name) for name in placements))
started = time.perf_counter()
scores = run(session, Settings())
print("SECONDS", time.perf_counter() - started)
assert len(scores.bouts) > 5, len(scores.bouts)
"""


def measure() -> list[tuple[float, float, float]]:
    """Return hours, seconds and peak memory as a multiple of the samples, a length each."""
    simulated = simulate_session(demo_spec(), 7)
    samples = {r.placement: np.hstack([r.acc_mps2, r.gyr_radps]) for r in simulated.recordings}
    found = []
    with tempfile.TemporaryDirectory() as home:
        visit = Path(home) / "visit.npz"
        np.savez(visit, **samples)
        for hours in HOURS:
            n_samples = round(hours * 3600 * RATE_HZ)
            seconds, peak = peak_of(CODE, str(visit), str(n_samples))
            found.append((hours, seconds, peak / (n_samples * COLUMNS * SENSORS * BYTES)))
    return found


def rows() -> list[Row]:
    """Return the rows on memory and growth of a long recording."""
    found = measure()
    shortest, longest = found[0], found[-1]
    size = longest[0] * 3600 * RATE_HZ * COLUMNS * SENSORS * BYTES / MEBIBYTE
    growth = (longest[1] / longest[0]) / (shortest[1] / shortest[0])
    times = ", ".join(f"{hours:.3g} h {seconds:.1f} s" for hours, seconds, _ in found)
    return [
        Row(
            "24 h, 100 Hz, 3 sensors with walking in it: peak memory while scoring",
            f"its samples as float64 ({size:.0f} MiB)",
            f"{longest[2]:.2f} times",
            "at most 4 times",
            longest[2] <= 4.0,
        ),
        Row(
            "time an hour of recording, 24 h",
            "the same of 10 min",
            f"{growth:.2f} times ({times})",
            "linear: at most 1.5 times",
            growth <= 1.5,
        ),
    ]
