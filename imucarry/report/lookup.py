"""Finding scores in a session: by bout, measure and side."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np

from imucarry.basics.records import (
    BoolArray,
    BoutResult,
    Estimate,
    FloatArray,
    Score,
    SessionScores,
    Side,
    Strides,
)
from imucarry.basics.units import DEG_PER_RAD
from imucarry.carry.bout_checks import arm_share
from imucarry.carry.kept import BASELINE_SMALL
from imucarry.measures.notices import no_walking
from imucarry.report.recorded import wrist_lacks

NOT_COMPUTED = Estimate(missing_because="not_computed")
SHARES_OF_SWING = ("yaw_kept", "yaw_kept_matched")
NO_STRIDES: FloatArray = np.empty(0)


def all_scores(bout: BoutResult) -> Iterator[Score]:
    """Every score of a bout as it is shown, those against the free walk last."""
    return (_as_shown(bout, score) for score in (*bout.scores, *bout.comparison.scores))


def _as_shown(bout: BoutResult, score: Score) -> Score:
    because = _not_shown_because(bout, score)
    return replace(score, estimate=Estimate(missing_because=because)) if because else score


def _not_shown_because(bout: BoutResult, score: Score) -> str:
    """Why a score is not shown as it stands in the tables, as a reason code; "" where it is."""
    if score.estimate.missing_because == "too_few_strides":
        if no_walking(bout.data):
            return "no_walking"
        lacks = ""
        if score.side != "none" and score.measure.startswith("arm_"):
            lacks = wrist_lacks(bout.data, score.side)
        if lacks:
            return lacks
    if score.measure in SHARES_OF_SWING and bout.comparison.finding_because == BASELINE_SMALL:
        return BASELINE_SMALL
    return ""


def score_of(bout: BoutResult, measure: str, side: str = "none") -> Score | None:
    """One score, or None when the bout has no such row."""
    for score in (*bout.scores, *bout.comparison.scores):
        if score.measure == measure and score.side == side:
            return _as_shown(bout, score)
    return None


def estimate_of(bout: BoutResult, measure: str, side: str = "none") -> Estimate:
    """One estimate; without a row it is missing because it was not computed."""
    score = score_of(bout, measure, side)
    return NOT_COMPUTED if score is None else score.estimate


def finding_shown(bout: BoutResult) -> str:
    """What a bout's mark tells: its finding, or that there is none because nothing was measured."""
    swung, code = estimate_of(bout, "sternum_yaw_range"), bout.comparison.rotation_finding
    if code != "unclear" or np.isfinite(swung.value):
        return code
    few = swung.missing_because == "too_few_strides"
    return "too_few_strides" if few else "not_measured"


def role_of(bout: BoutResult, side: Side) -> str:
    """Whether an arm was free or held in a bout, "none" when it was not measured."""
    score = score_of(bout, "arm_swing", side)
    return "none" if score is None else score.role


def arm_share_of(bout: BoutResult, side: Side) -> tuple[Estimate, bool]:
    """The share of its free swing that an arm is read by, and whether of walks of like pace."""
    score = arm_share(bout.comparison, side)
    if score is None:
        return NOT_COMPUTED, False
    return _as_shown(bout, score).estimate, score.measure == "arm_swing_kept_matched"


def bout_named(scores: SessionScores, name: str) -> BoutResult | None:
    """The bout of that name."""
    return next((bout for bout in scores.bouts if bout.data.row.bout == name), None)


def baseline_bouts(scores: SessionScores, bout: BoutResult) -> tuple[BoutResult, ...]:
    """The free walks that a bout is compared with."""
    found = (bout_named(scores, name) for name in bout.comparison.baseline_bouts)
    return tuple(b for b in found if b is not None)


def baseline_value(scores: SessionScores, bout: BoutResult, measure: str) -> float:
    """Mean of a measure over the free walks a bout is compared with, one weight a walk."""
    walks = baseline_bouts(scores, bout)
    values = [estimate_of(walk, measure).value for walk in walks]
    finite = [value for value in values if np.isfinite(value)]
    return float(np.mean(finite)) if finite else float("nan")


def free_bouts(scores: SessionScores) -> tuple[BoutResult, ...]:
    """The free walks of the visit."""
    return tuple(bout for bout in scores.bouts if bout.data.row.hold == "free")


def in_even_parts(bouts: Sequence[BoutResult], most: int) -> list[Sequence[BoutResult]]:
    """Bouts in as few parts of at most `most` as hold them, as even as can be."""
    n_parts = -(-len(bouts) // most)
    ends = [len(bouts) * k // n_parts for k in range(n_parts + 1)]
    return [bouts[a:b] for a, b in itertools.pairwise(ends)]


def column_of(bout: BoutResult, name: str) -> FloatArray:
    """A per-stride column; all NaN when the bout has none."""
    column = bout.data.columns.get(name)
    return np.full(bout.data.strides.start_s.size, np.nan) if column is None else column


def swing_values(bout: BoutResult, side: Side) -> tuple[FloatArray, FloatArray]:
    """Swing [deg] of an arm's strides that count, and their numbers from 1.

    Without a chest sensor these are the arm's own cycles, which have no strides to
    be left out with.
    """
    swing = bout.data.swing.get(side)
    if swing is None:
        return NO_STRIDES, NO_STRIDES
    kept = counted_swings(bout, side)
    values = swing.range_rad * DEG_PER_RAD
    good = np.flatnonzero(kept & np.isfinite(values))
    return values[good], good.astype(np.float64) + 1.0


def counted_swings(bout: BoutResult, side: Side) -> BoolArray:
    """Which entries of a bout's `StrideSwing` count, shape (S,)."""
    swing = bout.data.swing[side]
    if bout.data.trunk is None:
        return np.asarray(np.isfinite(swing.range_rad))
    return bout.data.strides.kept_arm(side)


def drop_words(strides: Strides, index: int) -> tuple[str, ...]:
    """The reasons for which one stride was left out."""
    return tuple(reason for reason, flags in strides.drop.items() if flags[index])
