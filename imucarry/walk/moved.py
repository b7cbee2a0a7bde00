"""Sensors that moved during the session, and standing that may have been with the load.

Nothing is corrected here: each finding is a notice that a person checks. A sensor
that turns on the body takes the vertical with it in its own axes; so does a person
who stands or walks otherwise, and each message says so.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations

import numpy as np

from imucarry.basics.evidence import passes
from imucarry.basics.evidence import worn as evidence
from imucarry.basics.records import BoutData, FloatArray, Notice, SensorResult
from imucarry.basics.units import DEG_PER_RAD
from imucarry.walk.standing import mean_vertical, unit, vertical_at_rest
from imucarry.walk.trunk import in_ranges

UNLOADED = ("free", "unknown")
"""Holds that do not say that a load was carried."""


@dataclass(frozen=True, slots=True)
class Vertical:
    """Where up was in a sensor's axes, on average over one rest or one walk."""

    name: str  # of the bout, "" for a rest
    start_s: float
    end_s: float
    up: FloatArray  # unit vector, shape (3,)
    within_deg: float = 0.0  # of a walk: between its first and its second half


@dataclass(frozen=True, slots=True)
class Step:
    """A change of the vertical between two times, in a sensor's axes."""

    start_s: float
    end_s: float
    angle_deg: float
    names: tuple[str, str] = ("", "")


def check_moved(bouts: Sequence[BoutData], sensors: Sequence[SensorResult]) -> tuple[Notice, ...]:
    """Return a notice for each sensor that looks moved, and one for loaded standing.

    Parameters
    ----------
    bouts : sequence of BoutData
    sensors : sequence of SensorResult

    Notes
    -----
    - chest: the standings fall into two groups, one before and one after, or two
      free walks differ by more than people do;
    - wrist: two free walks differ; its rests tell nothing, for the hand may hold a load;
    - a session without a free walk whose chest is levelled in standing.
    """
    found: list[Notice] = []
    for sensor in sensors:
        on_chest = sensor.recording.placement == "chest"
        walked = [
            (bout.row.hold, level)
            for bout in bouts
            if on_chest or bout.row.hold == "free"
            for level in walk_level(sensor, bout)
        ]
        walks = [level for hold, level in walked if hold == "free"]
        if on_chest:
            standing = standing_step(sensor, [level for _, level in walked])
            found += _chest_moved(standing, widest(walks))
            found += _standing_loaded(sensor, bouts)
        else:
            found += _wrist_moved(sensor.recording.placement, widest(walks))
    return tuple(found)


# --- levels ----------------------------------------------------------------------


def walk_level(sensor: SensorResult, bout: BoutData) -> list[Vertical]:
    """Return the mean vertical over a bout's straight strides, or over the bout without any."""
    recording, row = sensor.recording, bout.row
    straight = ~bout.strides.turning
    start_s, end_s = bout.strides.start_s[straight], bout.strides.end_s[straight]
    if not start_s.size:
        start_s, end_s = np.array([row.start_s]), np.array([row.end_s])
    first, last = np.searchsorted(recording.time_s, [start_s[0], end_s[-1]])
    part = slice(int(first), int(last))
    time_s = recording.time_s[part]
    nth = np.searchsorted(start_s, time_s, side="right") - 1
    used = (nth >= 0) & (time_s < end_s[nth]) & ~in_ranges(recording.gaps, part)
    if not used.any():
        return []
    quat = sensor.orientation.quat[part][used]
    halves = [unit(mean_vertical(half)) for half in np.array_split(quat, 2) if half.size]
    up = unit(mean_vertical(quat))
    return [Vertical(row.bout, row.start_s, row.end_s, up, angle_deg(halves[0], halves[-1]))]


def standing_levels(sensor: SensorResult, walks: Sequence[Vertical]) -> list[Vertical]:
    """Return the vertical in each rest that is standing: beside a walk and tilted about as it."""
    recording = sensor.recording
    found = []
    for first, last in sensor.orientation.rest:
        if last - first < evidence.MOVED_REST_LEAST_S.value * recording.rate_hz:
            continue
        start_s, end_s = float(recording.time_s[first]), float(recording.time_s[last - 1])
        rest = Vertical("", start_s, end_s, vertical_at_rest(recording, first, last))
        if any(_beside(rest, walk) and _is_standing(rest, walk) for walk in walks):
            found.append(rest)
    return found


def _beside(rest: Vertical, walk: Vertical) -> bool:
    apart_s = max(walk.start_s - rest.end_s, rest.start_s - walk.end_s)
    return apart_s < passes.STANDING_NEAR_S.value


def _is_standing(rest: Vertical, walk: Vertical) -> bool:
    return angle_deg(rest.up, walk.up) < passes.STANDING_TILT_DEG.value


def angle_deg(one: FloatArray, other: FloatArray) -> float:
    """Return the angle between two unit vectors."""
    return float(np.arccos(np.clip(one @ other, -1.0, 1.0))) * DEG_PER_RAD


# --- steps -----------------------------------------------------------------------


def widest(walks: Sequence[Vertical]) -> Step | None:
    """Return the two walks that differ most."""
    pairs = [
        Step(one.end_s, other.start_s, angle_deg(one.up, other.up), (one.name, other.name))
        for one, other in combinations(sorted(walks, key=lambda walk: walk.start_s), 2)
    ]
    return max(pairs, key=lambda step: step.angle_deg, default=None)


def standing_step(sensor: SensorResult, walks: Sequence[Vertical]) -> Step | None:
    """Return where the standings beside walks fall into two groups, one before and one after.

    Of all such divisions the one with the least scatter within its groups is returned.
    """
    rests = standing_levels(sensor, walks)
    steps = [
        divided
        for k in range(1, len(rests))
        if (divided := _divided(rests[:k], rests[k:])) is not None
        and _matters(rests[:k], rests[k:], walks, divided[1])
    ]
    return min(steps, key=lambda item: item[0])[1] if steps else None


def _divided(before: Sequence[Vertical], after: Sequence[Vertical]) -> tuple[float, Step] | None:
    """Return the scatter within two groups and the step between, if it stands out of it."""
    centres = [_centre(before), _centre(after)]
    away = [angle_deg(rest.up, centres[0]) for rest in before]
    away += [angle_deg(rest.up, centres[1]) for rest in after]
    scatter = float(np.sqrt(np.sum(np.square(away)) / max(len(away) - 2, 1)))
    step = Step(before[-1].end_s, after[0].start_s, angle_deg(*centres))
    least = max(evidence.MOVED_STANDING_DEG.value, evidence.MOVED_SCATTER.value * scatter)
    return (scatter, step) if step.angle_deg > least else None


def _centre(rests: Sequence[Vertical]) -> FloatArray:
    return unit(_weights(rests) @ np.array([rest.up for rest in rests]))


def _weights(rests: Sequence[Vertical]) -> FloatArray:
    length_s = np.array([rest.end_s - rest.start_s for rest in rests])
    return np.asarray(np.minimum(length_s, passes.STANDING_MOST_S.value))


def _matters(
    before: Sequence[Vertical], after: Sequence[Vertical], walks: Sequence[Vertical], step: Step
) -> bool:
    """Return whether each side holds a walk, or is a good part of all standing.

    A walk in which about as much changes, between its halves, counts for both sides.
    """
    least = evidence.MOVED_SHARE.value * float(np.sum(_weights([*before, *after])))
    amid = any(
        walk.start_s < step.end_s
        and walk.end_s > step.start_s
        and walk.within_deg > 0.5 * step.angle_deg
        for walk in walks
    )
    walked = (
        any(walk.start_s < before[-1].start_s for walk in walks),
        any(walk.end_s > after[0].end_s for walk in walks),
    )
    enough = [float(np.sum(_weights(side))) >= least for side in (before, after)]
    return amid or all(one or other for one, other in zip(walked, enough, strict=True))


# --- notices ---------------------------------------------------------------------


def _chest_moved(standing: Step | None, walks: Step | None) -> tuple[Notice, ...]:
    """Return one notice of what standing and free walks show."""
    said = []
    if standing is not None:
        said.append(
            f"between {standing.start_s:.1f} and {standing.end_s:.1f} s the standing changes by "
            f"{standing.angle_deg:.0f} deg"
        )
    if walks is not None and walks.angle_deg > evidence.MOVED_WALK_DEG.value:
        said.append(_walks_differ(walks))
    if not said:
        return ()
    message = (
        f"In the chest sensor's axes {', and '.join(said)}: the sensor moved, or the person stood "
        "or walked otherwise, for instance stood with the load in hand. Lean and pitch may be off "
        "by that much and do not compare before with after; if the sensor was mounted anew, left "
        "and right may be swapped too. If it moved, score what lies before and after as "
        "sessions of their own."
    )
    return (Notice(code="sensor_moved", message=message, where="chest", severity="check"),)


def _wrist_moved(placement: str, walks: Step | None) -> tuple[Notice, ...]:
    """Return a notice where two free walks hold the forearm too differently."""
    if walks is None or walks.angle_deg <= evidence.MOVED_ARM_DEG.value:
        return ()
    side = placement.removesuffix("_wrist")
    message = (
        f"In the {side} wrist sensor's axes {_walks_differ(walks)}: the sensor moved on the "
        "forearm, or the arm was held otherwise, for instance with the elbow bent more. If it "
        f"moved, the {side} arm's swing does not compare before with after, and the swing kept is "
        "wrong; score what lies before and after as sessions of their own."
    )
    return (Notice(code="sensor_moved", message=message, where=placement, severity="check"),)


def _walks_differ(step: Step) -> str:
    one, other = step.names
    return (
        f"the mean vertical differs by {step.angle_deg:.0f} deg between the free walks {one} "
        f"(to {step.start_s:.0f} s) and {other} (from {step.end_s:.0f} s)"
    )


def _standing_loaded(sensor: SensorResult, bouts: Sequence[BoutData]) -> tuple[Notice, ...]:
    """Return a note where all standing that levels the chest is beside loaded bouts."""
    holds = {bout.row.hold for bout in bouts}
    levelled = sensor.frame is not None and sensor.frame.levelled_in == "quiet_standing"
    if not levelled or "free" in holds or holds <= set(UNLOADED):
        return ()
    message = (
        "The session has no free walk: lean and pitch are counted from the standing beside the "
        "carries, which may have been with the load in hand; a lean in that standing too is "
        "then not seen."
    )
    return (Notice(code="standing_loaded", message=message, where="chest", severity="note"),)
