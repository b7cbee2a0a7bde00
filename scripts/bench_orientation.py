"""Time of the orientation of one sensor, against the libraries `ahrs` and `vqf`.

    python scripts/bench_orientation.py

Runs alternate (A B C A B C ...), medians are quoted. The samples are made here: a
trunk that stands and walks, with noise; the bias is estimated.
"""

from __future__ import annotations

import statistics
import time
from collections.abc import Callable
from importlib.metadata import version
from typing import Any

import numpy as np
import vqf
from ahrs.filters import Madgwick

from imucarry.basics.records import Recording
from imucarry.basics.settings import MotionSettings
from imucarry.motion.orientation import estimate_orientation

RATE_HZ = 100.0
LENGTHS = (3_000, 60_000)


def made_up(n_samples: int, seed: int = 7) -> Recording:
    """Return a trunk that stands 8 s of each minute and walks the rest."""
    rng = np.random.default_rng(seed)
    time_s = np.arange(n_samples) / RATE_HZ
    walking = ((time_s % 60) > 8)[:, None]
    stride = 2 * np.pi * 0.9 * time_s
    rate = np.stack([0.3 * np.sin(stride), 0.2 * np.sin(2 * stride), 0.5 * np.sin(stride + 1)], 1)
    bounce = np.stack([np.sin(2 * stride), np.sin(stride), 2.5 * np.cos(2 * stride)], axis=1)
    return Recording(
        placement="chest",
        rate_hz=RATE_HZ,
        time_s=time_s,
        acc_mps2=[0.0, 0.0, 9.81] + walking * bounce + 0.05 * rng.normal(size=(n_samples, 3)),
        gyr_radps=walking * rate + 0.01 + 0.005 * rng.normal(size=(n_samples, 3)),
    )


def rows(*, n_runs: int = 21, n_slow_runs: int = 3) -> list[dict[str, Any]]:
    """Time all in turn.

    Parameters
    ----------
    n_runs : int
        Of this package and of `vqf` at the greatest length; shorter ones run as long.
    n_slow_runs : int
        Of those, the first so many also run `ahrs`, which takes seconds.

    Returns
    -------
    list of dict
        One row a length and reference: ``n_samples, against, ours_ms, theirs_ms,
        times_faster``.
    """
    result = []
    for n_samples in LENGTHS:
        recording, settings = made_up(n_samples), MotionSettings()
        gyr, acc = recording.gyr_radps.copy(), recording.acc_mps2.copy()
        # Each function is called before the loop goes on, so late binding (B023) does no harm.
        runs: dict[str, Callable[[], object]] = {
            "ours": lambda: estimate_orientation(recording, settings),  # noqa: B023
            f"vqf {version('vqf')} offline": lambda: vqf.offlineVQF(gyr, acc, None, 1 / RATE_HZ),  # noqa: B023
            f"ahrs {version('ahrs')} Madgwick": lambda: Madgwick(gyr, acc, frequency=RATE_HZ),  # noqa: B023
        }
        taken_ms: dict[str, list[float]] = {name: [] for name in runs}
        for turn in range(n_runs * max(LENGTHS) // n_samples + 1):
            for name, run in runs.items():
                if name.startswith("ahrs") and turn > n_slow_runs:
                    continue
                start = time.perf_counter()
                run()
                if turn > 0:  # the first turn warms up
                    taken_ms[name].append(1e3 * (time.perf_counter() - start))
        ours_ms = statistics.median(taken_ms.pop("ours"))
        for name, taken in taken_ms.items():
            theirs_ms = statistics.median(taken)
            result.append(
                {
                    "n_samples": n_samples,
                    "against": name,
                    "ours_ms": ours_ms,
                    "theirs_ms": theirs_ms,
                    "times_faster": theirs_ms / ours_ms,
                }
            )
    return result


def main() -> None:
    """Print the table."""
    print("samples  against                  ours        theirs     times faster")
    for row in rows():
        print(
            f"{row['n_samples']:7,}  {row['against']:22} {row['ours_ms']:7.2f} ms "
            f"{row['theirs_ms']:9.2f} ms {row['times_faster']:9.1f}"
        )


if __name__ == "__main__":
    main()
