"""Gyroscopes that contradict each other, or the lane, in the turns of the walks.

Chest and wrists go round a turn together. Where one sensor turns half as far as the
others, or the other way round, its gyroscope's unit, scale or axes are not what its
file was taken for: all its angles are wrong, and no other check would tell.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations

import numpy as np

from imucarry.basics.evidence import worn as evidence
from imucarry.basics.records import SIDES, ArmMotion, BoutData, FloatArray, Notice, TrunkMotion
from imucarry.basics.units import DEG_PER_RAD
from imucarry.motion import signals

HALF_TURN_DEG = 180.0
TURNS_CONTRADICT = "turns_contradict"
"""Code of the notice."""

WHY = (
    "gyroscope's unit, scale or axes look wrong (an axis reversed, or two exchanged), or its "
    "`rate_hz`; none of its angles can be relied on until that is cleared."
)


def check_turned_alike(bouts: Sequence[BoutData]) -> tuple[Notice, ...]:
    """Return a notice for each sensor that turns otherwise than the rest, or than the lane.

    Parameters
    ----------
    bouts : sequence of BoutData

    Notes
    -----
    1. The rate about the vertical, slower than any stride, is that of the path for every
       sensor: its size and its course are compared over all bouts (`Likeness`).
    2. Of three sensors the one is named that the two others contradict together.
    3. Where the length of a lane is given, it is walked there and back: the chest turns
       half round from each pass to the next.
    """
    rates = _path_rates(bouts)
    pairs = {pair: likeness(rates[pair[0]], rates[pair[1]]) for pair in combinations(rates, 2)}
    return _odd_one(pairs) or _odd_pair(pairs) or _lane_contradicted(bouts)


# --- between sensors -----------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Likeness:
    """How two sensors turn about the vertical, over all bouts.

    Attributes
    ----------
    times : float
        Size of the second's turning in parts of the first's.
    correlation : float
        Of both at the same time; it says little where the clocks are not known.
    least, most : float [rad/s]
        Root mean square of the lesser and the greater.
    """

    times: float
    correlation: float
    least: float
    most: float

    @property
    def alike(self) -> bool:
        """Whether both go through the same turns."""
        return self._together and self._as_far and self.least > evidence.TURNED_RADPS.value

    @property
    def apart(self) -> bool:
        """Whether the second turns not as far as the first, or the other way round."""
        size = max(self.times, 1.0 / self.times)
        whenever = size > evidence.TURNED_UNTIMED_TIMES.value
        differs = self.other_way or whenever or (self._together and not self._as_far)
        return differs and self.most > evidence.TURNED_RADPS.value

    @property
    def other_way(self) -> bool:
        """Whether the second turns left where the first turns right."""
        return self.correlation < -evidence.TURNED_TOGETHER.value

    @property
    def _together(self) -> bool:
        return self.correlation > evidence.TURNED_TOGETHER.value

    @property
    def _as_far(self) -> bool:
        return max(self.times, 1.0 / self.times) < evidence.TURNED_TIMES.value


def likeness(first: FloatArray, second: FloatArray) -> Likeness:
    """Compare two rates of turning on one grid, shape (K,) [rad/s]; NaN where not known."""
    both = np.isfinite(first) & np.isfinite(second)
    a, b = first[both], second[both]
    size_a, size_b = (float(np.sqrt(np.mean(x * x))) if x.size else 0.0 for x in (a, b))
    least, most = min(size_a, size_b), max(size_a, size_b)
    if least == 0.0:
        return Likeness(1.0, 0.0, 0.0, 0.0)
    return Likeness(size_b / size_a, float(np.mean(a * b)) / (size_a * size_b), least, most)


Pairs = Mapping[tuple[str, str], Likeness]


def _odd_one(pairs: Pairs) -> tuple[Notice, ...]:
    """Name the sensor that two others, alike, contradict."""
    for (first, second), found in pairs.items():
        rest = {pair: other for pair, other in pairs.items() if pair != (first, second)}
        if not rest or not found.alike or not all(other.apart for other in rest.values()):
            continue
        odd = next(name for pair in rest for name in pair if name not in (first, second))
        times = [other.times if pair[1] == odd else 1 / other.times for pair, other in rest.items()]
        other_way = any(other.other_way for other in rest.values())
        how = _how(float(np.mean(times)), other_way=other_way)
        told = f"In the turns of the walks the {_named(odd)} sensor turns {how} the two others"
        return (_notice(f"{told}: its {WHY}", odd),)
    return ()


def _odd_pair(pairs: Pairs) -> tuple[Notice, ...]:
    """Name both of two sensors that contradict each other."""
    if len(pairs) != 1:
        return ()
    (first, second), found = next(iter(pairs.items()))
    # Of two alone, one that is nearly still may belong to a walk without turns, and the other
    # to a gesture.
    if not found.apart or found.least < 0.5 * evidence.TURNED_RADPS.value:
        return ()
    how = _how(found.times, other_way=found.other_way)
    told = f"In the turns of the walks the {_named(second)} sensor turns {how} the {_named(first)}"
    return (_notice(f"{told} sensor: of one of them the {WHY}", f"{first}, {second}"),)


def _how(times: float, *, other_way: bool) -> str:
    return "the other way round from" if other_way else f"{times:.2g} times as far as"


def _named(placement: str) -> str:
    return placement.replace("_", " ")


def _notice(message: str, where: str) -> Notice:
    return Notice(code=TURNS_CONTRADICT, message=message, where=where, severity="check")


# --- rates of the path ---------------------------------------------------------------


def _path_rates(bouts: Sequence[BoutData]) -> dict[str, FloatArray]:
    """Return each sensor's rate about the vertical through all bouts, on one grid [rad/s]."""
    grids = [_grid(bout) for bout in bouts]
    rates: dict[str, FloatArray] = {}
    for placement in ("chest", *(f"{side}_wrist" for side in SIDES)):
        parts = [
            _on(grid, _motion(bout, placement)) for bout, grid in zip(bouts, grids, strict=True)
        ]
        whole = np.concatenate([np.empty(0), *parts])
        if np.isfinite(whole).any():
            rates[placement] = whole
    return rates


def _grid(bout: BoutData) -> FloatArray:
    step_s = 0.25 / evidence.TURNED_CUTOFF_HZ.value
    return np.arange(bout.row.start_s, bout.row.end_s, step_s)


def _motion(bout: BoutData, placement: str) -> TrunkMotion | ArmMotion | None:
    if placement == "chest":
        return bout.trunk
    return next((arm for side, arm in bout.arms.items() if placement == f"{side}_wrist"), None)


def _on(grid_s: FloatArray, motion: TrunkMotion | ArmMotion | None) -> FloatArray:
    """Return one bout's slow rate about the vertical on a grid; NaN where it is not known."""
    if motion is None or motion.time_s.size < motion.rate_hz / evidence.TURNED_CUTOFF_HZ.value:
        return np.full(grid_s.size, np.nan)
    up = motion.gyr_radps if isinstance(motion, TrunkMotion) else motion.gyr_world_radps
    n_block = signals.block_length(
        motion.time_s.size, motion.rate_hz, evidence.TURNED_GRID_HZ.value
    )
    known = signals.block_means((motion.usable & ~motion.clipped).astype(float), n_block) == 1.0
    slow = signals.low_pass(
        signals.block_means(up[:, 2], n_block),
        rate_hz=motion.rate_hz / n_block,
        cutoff_hz=evidence.TURNED_CUTOFF_HZ.value,
    )
    middle_s = signals.block_means(motion.time_s, n_block)
    return np.interp(grid_s, middle_s, np.where(known, slow, np.nan), left=np.nan, right=np.nan)


# --- against the lane ----------------------------------------------------------------


def _lane_contradicted(bouts: Sequence[BoutData]) -> tuple[Notice, ...]:
    turned_deg = [turn for bout in bouts if np.isfinite(bout.lane_m) for turn in _turns_deg(bout)]
    if len(turned_deg) < evidence.TURNED_LEAST_TURNS.value:
        return ()
    usual_deg = float(np.median(turned_deg))
    if abs(usual_deg - HALF_TURN_DEG) < evidence.TURNED_LANE_DEG.value:
        return ()
    told = (
        "A lane is walked there and back, with half a turn between, but the chest sensor turned by "
        f"{usual_deg:.0f} deg from one pass to the next (median of {len(turned_deg)} turns)"
    )
    return (_notice(f"{told}: unless the walks went otherwise, its {WHY}", "chest"),)


def _turns_deg(bout: BoutData) -> list[float]:
    """Return how far the chest turned from each pass to the next."""
    trunk = bout.trunk
    if trunk is None:
        return []
    headings = []
    for item in bout.passes:
        inside = (trunk.time_s >= item.start_s) & (trunk.time_s < item.end_s)
        headings.append(float(np.mean(trunk.yaw_rad[inside])) if inside.any() else np.nan)
    turned = np.abs(np.diff(headings)) * DEG_PER_RAD
    return [float(turn) for turn in turned[np.isfinite(turned)]]
