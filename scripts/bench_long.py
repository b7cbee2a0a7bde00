"""Long recordings: memory against their samples, time against their length."""

from __future__ import annotations

import tempfile
from functools import cache
from pathlib import Path

import numpy as np
from bench_tools import MEBIBYTE, Grown, Row, peak_of

from imucarry.simulate.demo import demo_spec
from imucarry.simulate.session import simulate_session

LENGTHS_H = {"10 min": 1 / 6, "1 h": 1.0, "6 h": 6.0, "24 h": 24.0}
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


@cache
def grown() -> tuple[Grown, ...]:
    """Return seconds and peak memory of scoring recordings of each length [h]."""
    simulated = simulate_session(demo_spec(), 7)
    samples = {r.placement: np.hstack([r.acc_mps2, r.gyr_radps]) for r in simulated.recordings}
    found = []
    with tempfile.TemporaryDirectory() as home:
        visit = Path(home) / "visit.npz"
        np.savez(visit, **samples)
        for label, hours in LENGTHS_H.items():
            n_samples = round(hours * 3600 * RATE_HZ)
            found.append(Grown(label, hours, *peak_of(CODE, str(visit), str(n_samples))))
    return tuple(found)


def rows() -> list[Row]:
    """Return the rows on memory and growth of a long recording."""
    found = grown()
    shortest, longest = found[0], found[-1]
    size = longest.size * 3600 * RATE_HZ * COLUMNS * SENSORS * BYTES
    memory = longest.peak_bytes / size
    growth = (longest.seconds / longest.size) / (shortest.seconds / shortest.size)
    times = ", ".join(f"{one.label} {one.seconds:.1f} s" for one in found)
    return [
        Row(
            "24 h, 100 Hz, 3 sensors with walking in it: peak memory while scoring",
            f"its samples as float64 ({size / MEBIBYTE:.0f} MiB)",
            f"{memory:.2f} times",
            "at most 4 times",
            memory <= 4.0,
        ),
        Row(
            "time an hour of recording, 24 h",
            "the same of 10 min",
            f"{growth:.2f} times ({times})",
            "linear: at most 1.5 times",
            growth <= 1.5,
        ),
    ]
