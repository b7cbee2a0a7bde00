"""Show the mean stride of invented trunks beside real ones, by the same reading of both.

python scripts/simulated_beside_real.py [--data FOLDER] [--trials 1-1 2-1] [--out FIGURE.png]

The real recordings lie in ../shared/data/trunk_steps: one sensor at the lower back
(not the sternum), foot contacts known. Both kinds are levelled by their mean
gravity while walking, turned so that the forward axis holds what repeats with the
step and the lateral one what repeats with the stride, and cut at the true contacts.
"""

from __future__ import annotations

import argparse
import json
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from invented_clients import one_walk, random_walker

from imucarry.basics.records import FloatArray
from imucarry.simulate.path import passes
from imucarry.simulate.session import simulate_session

DATA = Path(__file__).resolve().parents[2] / "shared" / "data" / "trunk_steps"
TRIALS = ("1-1", "2-1", "3-1", "5-1", "6-1", "7-1", "8-1", "9-1")
SEEDS = (1, 2, 3, 4, 5, 6, 7, 8)
AXES = ("forward", "left", "up")
WRAP = 65536
EDGE_S = 1.5
TURN_EDGE_S = 0.5
ANSWER_S = 0.1
STRIDE_S = (0.7, 1.9)


@dataclass(frozen=True, slots=True)
class Walk:
    """One trunk recording with its true contacts; `clear` tells where strides are used."""

    name: str
    rate_hz: float
    acc: FloatArray
    gyr: FloatArray
    left_s: FloatArray
    right_s: FloatArray
    clear: tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True)
class Reading:
    """What one walk shows."""

    name: str
    stride_hz: float
    mean: FloatArray  # (3, 100) acceleration, forward, left, up
    rate_mean: FloatArray  # (3, 100) angular rate [deg/s]
    spread: FloatArray  # (3,)
    lateral: FloatArray  # harmonics 1 .. 8
    impact_degps: float
    peak_late_ms: float
    scatter_ms: float


def real_walk(folder: Path, trial: str) -> Walk:
    """Read one real trial; lost packets are bridged."""
    raw = np.loadtxt(folder / f"{trial}_lb.txt", skiprows=2, usecols=range(7))
    count = np.unwrap(raw[:, 0], period=WRAP)
    grid = np.arange(count[0], count[-1] + 1)
    filled = np.column_stack([np.interp(grid, count, raw[:, k]) for k in range(1, 7)])
    events = json.loads((folder / f"{trial}.json").read_text())
    first, last = (np.array(events["TrialBoundaries"]) - grid[0]) / 100.0
    turn, straight_again = (np.array(events["UTurnBoundaries"]) - grid[0]) / 100.0
    left, right = (
        (np.array([pair[1] for pair in events[f"{side}FootEvents"]]) - grid[0]) / 100.0
        for side in ("Left", "Right")
    )
    clear = ((first + EDGE_S, turn - TURN_EDGE_S), (straight_again + TURN_EDGE_S, last - EDGE_S))
    return Walk(trial, 100.0, filled[:, :3], filled[:, 3:], left, right, clear)


def invented_walk(seed: int) -> Walk:
    """Make one invented walk of two passes."""
    walker = random_walker(np.random.default_rng(seed))
    simulated = simulate_session(one_walk(seed, walker, passes(2, 9.0)), seed)
    chest, truth = simulated.recordings[0], simulated.truth[0]
    edges = [truth.walk_start_s, truth.walk_end_s]
    inside = truth.pass_number > 0
    clear = tuple(
        (
            float(truth.start_s[inside & (truth.pass_number == k)][0]),
            float(truth.end_s[inside & (truth.pass_number == k)][-1]),
        )
        for k in np.unique(truth.pass_number[inside])
    )
    clear = tuple((max(a, edges[0] + EDGE_S), min(b, edges[1] - EDGE_S)) for a, b in clear)
    left, right = truth.contact_s[truth.is_left], truth.contact_s[~truth.is_left]
    return Walk(f"seed {seed}", chest.rate_hz, chest.acc_mps2, chest.gyr_radps, left, right, clear)


def read(walk: Walk) -> Reading:
    """Read the mean stride, its spread and the trunk's answer to contacts."""
    acc, gyr = _levelled(walk)
    starts, ends = _strides(walk)
    curves, rates = (_cut(values, walk.rate_hz, starts, ends) for values in (acc, gyr))
    turn = _forward_turn(curves.mean(axis=0))
    curves, rates = (turned(values, turn) for values in (curves, rates))
    mean = curves.mean(axis=0)[:, :100]
    harmonics = np.abs(np.fft.rfft(mean[1])) / 50.0
    late = _answers(walk, turned(acc.T[None], turn)[0, 0])
    return Reading(
        name=walk.name,
        stride_hz=float(1.0 / np.median(ends - starts)),
        mean=mean,
        rate_mean=np.rad2deg(rates.mean(axis=0)[:, :100]),
        spread=curves.std(axis=0, ddof=1).mean(axis=1),
        lateral=harmonics[1:9],
        impact_degps=_impact(walk, gyr),
        peak_late_ms=1e3 * float(np.median(late)),
        scatter_ms=1e3 * 1.4826 * float(np.median(np.abs(late - np.median(late)))),
    )


def _levelled(walk: Walk) -> tuple[FloatArray, FloatArray]:
    """Return both signals along two level axes and the vertical."""
    time_s = np.arange(walk.acc.shape[0]) / walk.rate_hz
    walking = np.zeros(time_s.size, dtype=bool)
    for low, high in walk.clear:
        walking |= (time_s > low) & (time_s < high)
    up = walk.acc[walking].mean(axis=0)
    up = up / np.linalg.norm(up)
    first = np.cross(up, np.eye(3)[np.argmin(np.abs(up))])
    first = first / np.linalg.norm(first)
    axes = np.stack([first, np.cross(up, first), up])
    acc = walk.acc @ axes.T
    return acc - acc[walking].mean(axis=0), walk.gyr @ axes.T


def _strides(walk: Walk) -> tuple[FloatArray, FloatArray]:
    """Return left contacts and the next ones, of strides that lie clear of turns."""
    starts, ends = walk.left_s[:-1], walk.left_s[1:]
    used = np.zeros(starts.size, dtype=bool)
    for low, high in walk.clear:
        used |= (starts >= low) & (ends <= high)
    used &= (ends - starts > STRIDE_S[0]) & (ends - starts < STRIDE_S[1])
    return starts[used], ends[used]


def _cut(values: FloatArray, rate_hz: float, starts: FloatArray, ends: FloatArray) -> FloatArray:
    """Return each stride at 0 to 100 %, shape (S, 3, 101)."""
    at = starts[:, None] + np.linspace(0.0, 1.0, 101) * (ends - starts)[:, None]
    time_s = np.arange(values.shape[0]) / rate_hz
    return np.stack([np.interp(at, time_s, values[:, k]) for k in range(3)], axis=1)


def _forward_turn(mean: FloatArray) -> float:
    """Return the angle to the axis that repeats most with the step, peaking at contact."""
    best, angle = -1.0, 0.0
    for turn in np.linspace(0.0, np.pi, 181):
        power = np.abs(np.fft.rfft(np.cos(turn) * mean[0, :100] + np.sin(turn) * mean[1, :100]))
        share = float((power[2:12:2] ** 2).sum() / (power[1:12:2] ** 2).sum())
        if share > best:
            best, angle = share, float(turn)
    ahead = np.cos(angle) * mean[0] + np.sin(angle) * mean[1]
    falls = ahead[[0, 50]].mean() > ahead[[9, 59]].mean()
    return angle if falls else angle + np.pi


def turned(curves: FloatArray, angle: float) -> FloatArray:
    """Turn curves, shape (S, 3, n), about the vertical."""
    cos, sin = np.cos(angle), np.sin(angle)
    first, second = curves[:, 0], curves[:, 1]
    return np.stack([cos * first + sin * second, cos * second - sin * first, curves[:, 2]], axis=1)


def _answers(walk: Walk, forward: FloatArray) -> FloatArray:
    """Return how late after each contact the forward acceleration peaks [s]."""
    width = max(round(0.03 * walk.rate_hz), 1)
    smooth = np.convolve(forward, np.hanning(width + 2)[1:-1] / (width + 1) * 2, "same")
    fine = np.arange(-ANSWER_S, ANSWER_S + 1e-9, 0.001)
    time_s = np.arange(smooth.size) / walk.rate_hz
    contacts = np.concatenate([walk.left_s, walk.right_s])
    used = [t for t in contacts if any(low <= t <= high for low, high in walk.clear)]
    return np.array([fine[np.argmax(np.interp(t + fine, time_s, smooth))] for t in used])


def _impact(walk: Walk, gyr: FloatArray) -> float:
    """Return the usual peak of the angular rate above 7 Hz after a contact [deg/s]."""
    frequency = np.fft.rfftfreq(gyr.shape[0], 1.0 / walk.rate_hz)
    spectrum = np.fft.rfft(gyr, axis=0)
    spectrum[frequency < 7.0] = 0.0
    quick = np.linalg.norm(np.fft.irfft(spectrum, gyr.shape[0], axis=0), axis=1)
    peaks = []
    for contact in np.concatenate([walk.left_s, walk.right_s]):
        if any(low <= contact <= high for low, high in walk.clear):
            at = round(contact * walk.rate_hz)
            peaks.append(quick[at : at + round(0.2 * walk.rate_hz)].max())
    return float(np.rad2deg(np.median(peaks)))


def table(readings: Sequence[Reading]) -> str:
    """Return one line a walk."""
    head = (
        "walk      stride  RMS of the mean stride  spread fwd/left/up   lateral harmonics 1..8"
        "                         gyro>7Hz  peak late  scatter\n"
        "              Hz        m/s^2                  m/s^2             m/s^2"
        "                                           deg/s      ms         ms"
    )
    lines = [
        f"{r.name:9s} {r.stride_hz:6.2f}  "
        + " ".join(f"{v:6.2f}" for v in r.mean.std(axis=1))
        + "   "
        + " ".join(f"{v:6.2f}" for v in r.spread)
        + "   "
        + " ".join(f"{v:5.2f}" for v in r.lateral)
        + f"   {r.impact_degps:6.0f}    {r.peak_late_ms:6.0f}   {r.scatter_ms:6.0f}"
        for r in readings
    ]
    return "\n".join([head, *lines])


def draw(real: Sequence[Reading], invented: Sequence[Reading], out: Path) -> None:
    """Draw the mean strides of both kinds, one row a kind of signal."""
    import matplotlib

    matplotlib.use("Agg")
    from matplotlib import pyplot

    figure, panels = pyplot.subplots(4, 3, figsize=(13, 13), sharex=True)
    percent = np.arange(100)
    for column, kind in enumerate((real, invented)):
        for row in range(2):
            for k, axis in enumerate(AXES):
                panel = panels[2 * row + column, k]
                for reading in kind:
                    values = reading.mean if row == 0 else reading.rate_mean
                    panel.plot(percent, values[k], linewidth=0.9)
                quantity = "acceleration, m/s²" if row == 0 else "rate about it, deg/s"
                name = "real, lower back" if column == 0 else "invented, sternum"
                panel.set_title(f"{axis}: {quantity} ({name})", fontsize=9)
                panel.axvline(50, color="0.8", linewidth=0.7)
                panel.set_ylim((-7, 7) if row == 0 else (-120, 120))
    figure.supxlabel("% of the stride, 0 at left contact")
    figure.tight_layout()
    figure.savefig(out, dpi=80)


def main() -> None:
    """Print both tables and draw the figure."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--data", type=Path, default=DATA, help="folder trunk_steps")
    parser.add_argument("--trials", nargs="+", default=TRIALS)
    parser.add_argument("--out", type=Path, help="a PNG to draw")
    chosen = parser.parse_args()
    if not chosen.data.is_dir():
        raise SystemExit(f"the folder of open recordings, {chosen.data}, is not here")
    real = [read(real_walk(chosen.data, trial)) for trial in chosen.trials]
    invented = [read(invented_walk(seed)) for seed in SEEDS]
    print("Real, lower back:", table(real), "", "Invented, sternum:", table(invented), sep="\n")
    if chosen.out:
        draw(real, invented, chosen.out)


if __name__ == "__main__":
    main()
