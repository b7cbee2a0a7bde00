"""Walking bouts, found without a sheet."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

import numpy as np

from imucarry.basics.evidence import passes as evidence
from imucarry.basics.records import BoolArray, FloatArray, Notice, Orientation, Recording, Window
from imucarry.basics.settings import WalkSettings
from imucarry.walk.passes import runs
from imucarry.walk.search import Marks, walking_marks
from imucarry.walk.swung import Walk, swung_together, told_by_swing


def find_walking(
    recordings: Sequence[Recording], orientations: Sequence[Orientation], settings: WalkSettings
) -> tuple[Window, ...]:
    """Find the walking bouts of a session.

    Parameters
    ----------
    recordings : sequence of Recording
    orientations : sequence of Orientation
        One a recording.
    settings : WalkSettings
        ``bout_gap_s``.

    Returns
    -------
    tuple of Window
        In order; they do not overlap.

    Notes
    -----
    The chest sensor decides where there is one, else each wrist that is there.
    A chest may bob by walking alone; an arm does much else, so that more is
    asked of a wrist, and slow walking is not told from slow exercise there.
    """
    return tuple(walk.window for walk in find_walks(recordings, orientations, settings))


def find_walks(
    recordings: Sequence[Recording], orientations: Sequence[Orientation], settings: WalkSettings
) -> tuple[Walk, ...]:
    """Find the walking bouts of a session as `find_walking` does, and what tells them."""
    pairs = list(zip(recordings, orientations, strict=True))
    on_chest = [pair for pair in pairs if pair[0].placement == "chest"]
    marks = [walking_marks(*pair, with_swing=not on_chest) for pair in on_chest or pairs]
    look = chest_spells if on_chest else wrist_spells
    spells = [spell for item in marks for spell in look(item)]
    gap_s = settings.bout_gap_s
    swung = [] if on_chest else join(swung_together([swing_spells(item) for item in marks]), gap_s)
    by_swing, rest = told_by_swing(spells, swung)
    walks = [*by_swing, *(Walk(window, by_swing=False) for window in join(rest, gap_s))]
    walks.sort(key=lambda walk: walk.window.start_s)
    limits = [pair[0].time_s[[0, -1]] for pair in on_chest or pairs if pair[0].time_s.size]
    if not walks:
        return ()
    windows = with_margins(
        [walk.window for walk in walks], float(np.min(limits)), float(np.max(limits))
    )
    return tuple(Walk(window, walk.by_swing) for window, walk in zip(windows, walks, strict=True))


def check_passed_over(
    recordings: Sequence[Recording],
    orientations: Sequence[Orientation],
    found: Sequence[Window],
) -> tuple[Notice, ...]:
    """Tell where an arm swung as in a walk, but no walking was found.

    Parameters
    ----------
    recordings, orientations : sequences
        Of the session's sensors; with a chest sensor nothing is asked of the wrists.
    found : sequence of Window
        The bouts.
    """
    if any(item.placement == "chest" for item in recordings):
        return ()
    spells: list[Window] = []
    for recording, orientation in zip(recordings, orientations, strict=True):
        spells += swung_spells(walking_marks(recording, orientation))
    times = [
        f"{spell.start_s:.0f} to {spell.end_s:.0f} s"
        for spell in join(spells, evidence.DROPOUT_S.value)
        if not any(bout.start_s < spell.end_s and bout.end_s > spell.start_s for bout in found)
    ]
    if not times:
        return ()
    named = " and ".join(filter(None, [", ".join(times[:-1]), times[-1]]))
    message = (
        f"An arm swung as in a walk at {named}, but no walking was found there: it is not scored. "
        "If it was a walk, write its start_s and end_s into bouts.csv."
    )
    return (Notice(code="arm_swung_as_in_walk", message=message, severity="check"),)


def none_found(has_chest: bool) -> Notice:
    """Return the notice that a visit without times of bouts shows no walking."""
    slow = 60.0 / evidence.WRIST_PERIOD_MOST_S.value
    at_wrist = (
        f" A wrist alone shows walking from {slow:.0f} steps a minute on, where the legs lift it "
        "clearly: slower or softer walking is not told from exercise there."
    )
    slow_chest = 120.0 * evidence.SEARCH_STRIDE_RATE_MIN_HZ.value
    at_chest = f" A chest sensor shows walking from {slow_chest:.0f} steps a minute on."
    message = (
        "No walking was found, so there is no bout to score."
        f"{at_chest if has_chest else at_wrist} If there was some, write its start_s and end_s "
        "into bouts.csv."
    )
    return Notice(code="no_bout_found", message=message, severity="check")


def spells_of(walking: BoolArray, time_s: FloatArray) -> list[tuple[int, int]]:
    """Return the index ranges of walking, short dropouts bridged.

    Ranges end where the marks leave out a quiet part.
    """
    hop_s = evidence.SEARCH_HOP_S.value
    most = round(evidence.DROPOUT_S.value / hop_s)
    found: list[tuple[int, int]] = []
    for first, last in runs(walking):
        whole = np.flatnonzero(np.diff(time_s[first:last]) > 2.0 * hop_s) + first + 1
        for a, b in zip([first, *whole], [*whole, last], strict=True):
            near = found and a - found[-1][1] <= most and time_s[a] - time_s[found[-1][1] - 1] < 1.0
            if near:
                found[-1] = (found[-1][0], int(b))
            else:
                found.append((int(a), int(b)))
    return found


def chest_spells(marks: Marks) -> list[Window]:
    """Return the spells of walking that a chest sensor shows."""
    walking = (
        (marks.rhythm > evidence.CHEST_RHYTHM_LEAST.value)
        & (marks.vertical_mps2 > evidence.CHEST_VERTICAL_LEAST_MPS2.value)
        & (marks.slow_frac < evidence.SLOW_VERTICAL_MOST.value)
    )
    seed = evidence.CHEST_SEED_S.value / evidence.SEARCH_HOP_S.value
    ranges = spells_of(walking, marks.time_s)
    most_s = evidence.CHEST_MOVING_ON_S.value
    spells = [span(marks, first, last, most_s) for first, last in ranges if last - first >= seed]
    joined = join(spells, evidence.DROPOUT_S.value)
    return [
        spell for spell in joined if spell.end_s - spell.start_s >= evidence.CHEST_LEAST_S.value
    ]


def wrist_spells(marks: Marks) -> list[Window]:
    """Return the spells of walking that a wrist sensor shows."""
    score = marks.rhythm + 0.5 * (marks.again - marks.back)
    turning = marks.turning_radps / np.maximum(marks.vertical_mps2, 1e-6)
    lifts = (
        (marks.vertical_mps2 > evidence.WRIST_VERTICAL_LEAST_MPS2.value)
        & (marks.horizontal < evidence.WRIST_HORIZONTAL_MOST.value)
        & (turning < evidence.WRIST_TURNING_MOST_SPM.value)
    )
    walking = (
        (score > evidence.WRIST_RHYTHM_LEAST.value)
        & lifts
        & (marks.slow_frac < evidence.SLOW_VERTICAL_MOST.value)
        & (marks.tilt_deg < evidence.WRIST_TILT_MOST_DEG.value)
        & (marks.period_s < evidence.WRIST_PERIOD_MOST_S.value)
    )
    ranges = spells_of(walking, marks.time_s)
    walked = [(first, last) for first, last in ranges if looks_walked(marks, first, last)]
    most_s = evidence.WRIST_MOVING_ON_S.value
    return [span(marks, first, last, most_s) for first, last in walked]


def swings(marks: Marks) -> BoolArray:
    """Tell where an arm swings to and fro with the steps, as a free arm does in a walk.

    Notes
    -----
    A wide swing lifts the wrist at its ends, when the legs lower it: the vertical is small
    beside the horizontal. How the swing turns back after a step, and comes again after two,
    then shows the walk.
    """
    clear = (marks.again - marks.back) / 2.0 > evidence.WRIST_SWING_CLEAR.value
    level = marks.tilt_deg < evidence.WRIST_SWING_TILT_MOST_DEG.value
    lifted = marks.vertical_mps2 > evidence.WRIST_SWING_VERTICAL_LEAST_MPS2.value
    return clear & level & lifted & (marks.period_s < evidence.WRIST_QUICK_PERIOD_S.value)


def swing_spells(marks: Marks) -> list[Window]:
    """Return the spells that an arm's swing shows to be walking, whatever the legs lift."""
    walking = swings(marks) & (marks.slow_frac < evidence.SLOW_VERTICAL_MOST.value)
    least = evidence.WRIST_SLOW_LEAST_S.value / evidence.SEARCH_HOP_S.value
    least_rhythm = evidence.WRIST_SWUNG_RHYTHM_LEAST.value
    return [
        span(marks, first, last, evidence.WRIST_MOVING_ON_S.value)
        for first, last in spells_of(walking, marks.time_s)
        if last - first >= least and float(np.mean(marks.rhythm[first:last])) >= least_rhythm
    ]


def swung_spells(marks: Marks) -> list[Window]:
    """Return the spells in which an arm swung as in a walk, and long enough for one."""
    least = evidence.WRIST_SLOW_LEAST_S.value / evidence.SEARCH_HOP_S.value
    swung = (
        (marks.swing > evidence.WRIST_SWING_CLEAR.value)
        & (marks.tilt_deg < evidence.WRIST_SWING_TILT_MOST_DEG.value)
        & (marks.swing_period_s < evidence.WRIST_QUICK_PERIOD_S.value)
        & (marks.vertical_mps2 > evidence.WRIST_SWING_VERTICAL_LEAST_MPS2.value)
    )
    ranges = spells_of(swung, marks.time_s)
    return [
        Window(float(marks.time_s[first]), float(marks.time_s[last - 1]))
        for first, last in ranges
        if last - first >= least
    ]


def looks_walked(marks: Marks, first: int, last: int) -> bool:
    """Tell whether a spell at the wrist is walking as a whole."""
    period_s = float(np.median(marks.period_s[first:last]))
    quick = period_s < evidence.WRIST_QUICK_PERIOD_S.value
    least_s = evidence.WRIST_LEAST_S.value if quick else evidence.WRIST_SLOW_LEAST_S.value
    lasts_s = (last - first) * evidence.SEARCH_HOP_S.value
    rhythm = float(np.mean(marks.rhythm[first:last]))
    swing_lead = float(np.mean(marks.again[first:last])) - rhythm
    horizontal = float(np.exp(np.mean(np.log(marks.horizontal[first:last]))))
    like_a_drill = (
        swing_lead > evidence.WRIST_SWING_LEAD_MOST.value
        and lasts_s < evidence.WRIST_DRILL_MOST_S.value
    )
    return (
        lasts_s >= least_s
        and rhythm >= evidence.WRIST_BOUT_RHYTHM_LEAST.value
        and horizontal < evidence.WRIST_BOUT_HORIZONTAL_MOST.value
        and not like_a_drill
    )


def span(marks: Marks, first: int, last: int, most_s: float) -> Window:
    """Return the times of a spell, and up to `most_s` while the vertical goes on moving.

    The rhythm of first and last steps, and of uneven ones, is not clear enough by itself.
    """
    usual = float(np.median(marks.vertical_mps2[first:last]))
    moving = marks.vertical_mps2 > evidence.MOVING_ON_FRAC.value * usual
    most = round(most_s / evidence.SEARCH_HOP_S.value)
    start, stop = first, last - 1
    while start > max(first - most, 0) and moving[start - 1]:
        start -= 1
    while stop < min(last - 1 + most, moving.size - 1) and moving[stop + 1]:
        stop += 1
    first_s, last_s = marks.time_s[first], marks.time_s[last - 1]
    # The marks leave out quiet parts: what stands next to a spell may be far from it.
    return Window(
        float(max(marks.time_s[start], first_s - most_s)),
        float(min(marks.time_s[stop], last_s + most_s)),
    )


def join(spells: Sequence[Window], gap_s: float) -> list[Window]:
    """Join spells that overlap or lie less than `gap_s` apart."""
    joined: list[Window] = []
    for spell in sorted(spells, key=lambda item: item.start_s):
        if joined and spell.start_s - joined[-1].end_s < gap_s:
            joined[-1] = Window(joined[-1].start_s, max(joined[-1].end_s, spell.end_s))
        else:
            joined.append(spell)
    return joined


def with_margins(spells: Sequence[Window], first_s: float, last_s: float) -> tuple[Window, ...]:
    """Widen spells to both sides, not beyond the recording or half-way to the next."""
    margin_s = evidence.BOUT_MARGIN_S.value
    middles = [(a.end_s + b.start_s) / 2.0 for a, b in pairwise(spells)]
    lows, highs = [first_s, *middles], [*middles, last_s]
    return tuple(
        Window(max(spell.start_s - margin_s, low), min(spell.end_s + margin_s, high))
        for spell, low, high in zip(spells, lows, highs, strict=True)
    )
