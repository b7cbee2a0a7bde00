"""All notices of a session, gathered: what to check first, then what is only noted."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Final

from imucarry.basics.records import Notice, SessionScores
from imucarry.carry.baseline_arms import STILL_BESIDE, WALK_UNLIKE_STRIDES
from imucarry.carry.baseline_moved import ARMS_APART, ARMS_UNLIKE
from imucarry.carry.baseline_notices import SPEED_NOT_CHECKED
from imucarry.carry.bout_checks import FREE_ARM, SAFETY, UNLIKE_STRIDES
from imucarry.carry.ladder_doubts import IMPLEMENTS_APART
from imucarry.motion.orientation import CONTRADICTION
from imucarry.readers.near_columns import COLUMN_NOT_READ
from imucarry.report.joined import OF_BOUTS, OF_THE_VISIT, joined
from imucarry.report.wording import ladder_names, say_arm_ladder, say_checks
from imucarry.report.wording.say_gaps import GAPS, gaps_told
from imucarry.report.wording.side_doubt import side_in_doubt
from imucarry.walk.sheet_times import TIMES_DO_NOT_FIT
from imucarry.walk.turned_alike import TURNS_CONTRADICT
from imucarry.walk.worn import WRONG_SIDE

STRANGE_UNIT: Final = "unit_not_known"
HALVES_APART: Final = "halves_apart"
"""Codes of a unit that is not known, and of a sensor's two files without a common clock.

They stand here too, because the readers that tell them would load pandas with every page.
"""

FAULTS: Final = (
    HALVES_APART,
    STRANGE_UNIT,
    CONTRADICTION,
    TURNS_CONTRADICT,
    TIMES_DO_NOT_FIT,
    COLUMN_NOT_READ,
)
"""Codes of faults of the recording that may undo all else that is said of it."""

LOSSES: Final = ("sensor_not_recording", "starts_late", "gaps", "held_values")
"""Codes of what a sensor did not record, the most harmful first."""

OF_ARMS: Final = (FREE_ARM, ARMS_UNLIKE, ARMS_APART)
"""Codes of what is told of a carry's free arm."""

WRISTS: Final = ("left_wrist", "right_wrist")
ABOUT_ARMS: Final = (
    *OF_ARMS, UNLIKE_STRIDES, WALK_UNLIKE_STRIDES, STILL_BESIDE, "phase_unusual", "two_to_one",
)  # fmt: skip
"""Codes that leave what is said of the trunk as it is, as does all that is of a wrist sensor."""

FELL: Final = ("reduced", "minimal")


def all_notices(scores: SessionScores) -> tuple[tuple[str, Notice], ...]:
    """Every notice once but pain and early stops, each with what it is about.

    That is one or several bouts, a sensor, or "".
    Where the rotation of a carry fell while its speed is not known, that is a check; else it is
    only noted.
    """
    seen: dict[tuple[str, Notice], None] = {}
    told: set[object] = set()
    fell, gaps = _fallen(scores), _gaps(scores)
    for about, notice in _walk(scores):
        # With a doubtful side the arm that is held may be taken for the free one.
        if notice.code in SAFETY or (notice.code in OF_ARMS and side_in_doubt(scores, about)):
            continue
        same = (about, notice) if about and notice.code in OF_BOUTS else notice
        if same not in told:
            told |= {same, notice}
            if notice.code == SPEED_NOT_CHECKED and about in fell:
                notice = replace(notice, severity="check")
            seen[(about, gaps.get(notice, notice))] = None
    return joined(seen)


def _gaps(scores: SessionScores) -> dict[Notice, Notice]:
    """The notices of gaps, each as it is told: with the bouts that lack samples."""
    rows = [bout.data.row for bout in scores.bouts]
    return {
        notice: gaps_told(notice, sensor, rows)
        for sensor in scores.sensors
        for notices in (sensor.recording.notices, *(r.notices for r in sensor.recording.readings))
        for notice in notices
        if notice.code == GAPS
    }


def _fallen(scores: SessionScores) -> set[str]:
    """The bouts in which the trunk turned less."""
    bouts = (bout for bout in scores.bouts if bout.comparison.rotation_finding in FELL)
    return {bout.data.row.bout for bout in bouts}


def _walk(scores: SessionScores) -> Iterator[tuple[str, Notice]]:
    for bout in scores.bouts:
        name = bout.data.row.bout
        for notices in (bout.notices, bout.data.notices, bout.data.contacts.notices,
                        bout.comparison.notices):  # fmt: skip
            yield from ((name, notice) for notice in notices)
    for sensor in scores.sensors:
        place = sensor.recording.placement
        frame = sensor.frame.notices if sensor.frame is not None else ()
        reading = tuple(n for r in sensor.recording.readings for n in r.notices)
        for notices in (reading, sensor.recording.notices, sensor.orientation.notices,
                        sensor.clock.notices, frame):  # fmt: skip
            yield from ((place, notice) for notice in notices)
    for rung in scores.ladder:
        hold = ladder_names.ladder_hold(rung)
        yield from (("", replace(notice, where=hold)) for notice in rung.notices)
    names = {bout.data.row.bout for bout in scores.bouts}
    yield from ((n.where if n.where in names else "", n) for n in scores.notices)
    yield from (("", notice) for notice in scores.session.notices)


def checks(scores: SessionScores) -> tuple[tuple[str, Notice], ...]:
    """What a person should look at before believing the result.

    Pain and early stops come first, worst first; then whether anything could be compared
    at all, faults of the recording, a doubtful loaded side (without what is said of the
    free arm of that bout), loads split by implement; then what may change the answers of the
    trunk: the free walks, what the chest sensor did not record, what else is doubtful, pain that
    was not noted. The same of the arms and wrist sensors comes last.
    """
    doubts = [item for item in all_notices(scores) if item[1].severity == "check"]
    doubts += [("", notice) for notice in say_checks.not_noted(scores)]
    if say_arm_ladder.arms_only(scores):  # each bout's own finding says it then
        doubts = [item for item in doubts if item[1].code != FREE_ARM]
        if differ := say_arm_ladder.walks_differ(scores):
            doubts = [item for item in doubts if item[1].code != ARMS_APART]
            doubts.append(("", Notice(ARMS_APART, differ, severity="check")))
    doubts.sort(key=lambda item: _order(*item))
    first = (*say_checks.safety(scores), *say_checks.not_compared(scores))
    return (*(("", n) for n in first), *doubts)


def _order(about: str, notice: Notice) -> tuple[int, bool, int]:
    """Return what sorts doubts: faults of the recording and of the sheet, the trunk, the arms."""
    code = notice.code
    ranks = {HALVES_APART: -1, WRONG_SIDE: 1, IMPLEMENTS_APART: 2}
    first = ranks.get(code, 0 if code in FAULTS else 3)
    if first < 3:
        return first, False, 0
    within = {loss: 1 + k for k, loss in enumerate(LOSSES)} | dict.fromkeys(OF_THE_VISIT, 0)
    return first, _of_arms(about, notice), within.get(code, 1 + len(LOSSES))


def _of_arms(about: str, notice: Notice) -> bool:
    """Whether a doubt leaves what is said of the trunk as it is."""
    return notice.code in ABOUT_ARMS or about in WRISTS or notice.where in WRISTS


def notes(scores: SessionScores) -> tuple[tuple[str, Notice], ...]:
    """What was seen and gone on from."""
    return tuple(item for item in all_notices(scores) if item[1].severity != "check")
