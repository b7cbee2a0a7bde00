"""The stages of one session, named once and in order: `run`.

sensors   orientation of each recording, then one clock
bouts     the sheet's rows, or the walking that is found
trunk     contacts, passes, strides, sternum yaw
arms      forearm swing, in its own plane or the free walk's
measures  per stride, then per bout
carry     against the free walk, the ladder, the aim, the shoulder tests
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

from imucarry.basics.records import (
    SIDES,
    BoutData,
    BoutResult,
    BoutRow,
    Notice,
    SensorResult,
    Session,
    SessionScores,
    Side,
    StrideSwing,
    Window,
)
from imucarry.basics.settings import Settings
from imucarry.carry.aim import read_aims
from imucarry.carry.baseline import against_free_walk
from imucarry.carry.bout_checks import bout_checks
from imucarry.carry.ladder import climb
from imucarry.carry.retest import compare_tests
from imucarry.carry.rom_sittings import sitting_notices
from imucarry.carry.rom_spread import scatter_notices
from imucarry.measures.columns import stride_columns
from imucarry.measures.notices import score_notices
from imucarry.measures.roles import arm_role
from imucarry.measures.table import compute_scores
from imucarry.motion.clocks import align_clocks, on_session_clock
from imucarry.motion.orientation import estimate_orientation
from imucarry.readers.frozen import mark_frozen
from imucarry.readers.sheet_notices import unknown_bouts
from imucarry.walk.arm_plane import FreePlane
from imucarry.walk.arms import free_plane, stride_swing
from imucarry.walk.bout_rows import timed_rows
from imucarry.walk.bouts import check_passed_over, none_found
from imucarry.walk.coverage import check_covered
from imucarry.walk.loose import check_loose
from imucarry.walk.moved import check_moved
from imucarry.walk.not_in_sheet import check_forgotten
from imucarry.walk.placement import chest_frame
from imucarry.walk.sheet_times import check_times
from imucarry.walk.stated_times import check_stated_times
from imucarry.walk.trunk import CHEST_DOUBTS
from imucarry.walk.turned_alike import check_turned_alike
from imucarry.walk.walks import Walk, walks_of, worn_at
from imucarry.walk.worn import check_worn

Progress = Callable[[str, int, int], None]
"""Called with a stage's name, how many of its items are done, and how many there are."""


def run(session: Session, settings: Settings, *, progress: Progress | None = None) -> SessionScores:
    """Score one session.

    Parameters
    ----------
    session : Session
    settings : Settings
    progress : callable, optional
        Told of each finished bout.

    Returns
    -------
    SessionScores

    Raises
    ------
    SessionError
        If the bouts sheet does not match the walking that was found.
    """
    tell = progress or _silent
    sensors = _sensors(session, settings)
    rows = timed_rows(
        session,
        [item.recording for item in sensors],
        [item.orientation for item in sensors],
        settings.walk,
    )
    sensors = tuple(_without_frozen(item, rows, settings) for item in sensors)
    sensors = _with_chest_frame(sensors, rows)
    walks = walks_of(rows, sensors, settings.walk, tell)
    bouts = _of_session(_bout_data(walks, settings), session, sensors)
    return _compared(session, sensors, bouts, settings)


def _silent(stage: str, done: int, total: int) -> None:
    """Tell nobody."""


# --- sensors -----------------------------------------------------------------


def _sensors(session: Session, settings: Settings) -> tuple[SensorResult, ...]:
    """Orient every recording and put all of them on the session clock."""
    orientations = [estimate_orientation(rec, settings.motion) for rec in session.recordings]
    clocks = align_clocks(session.recordings, orientations, settings.motion)
    return tuple(
        SensorResult(on_session_clock(recording, clock), orientation, clock, None)
        for recording, orientation, clock in zip(
            session.recordings, orientations, clocks, strict=True
        )
    )


def _without_frozen(
    sensor: SensorResult, rows: Sequence[BoutRow], settings: Settings
) -> SensorResult:
    """Take what a sensor repeated within bouts for neither motion nor rest."""
    bouts = {row.bout: (row.start_s, row.end_s) for row in rows}
    marked = mark_frozen(sensor.recording, bouts)
    if marked.gaps == sensor.recording.gaps:
        return replace(sensor, recording=marked)
    orientation = estimate_orientation(marked, settings.motion)
    return replace(sensor, recording=marked, orientation=orientation)


def _with_chest_frame(
    sensors: tuple[SensorResult, ...], rows: Sequence[BoutRow]
) -> tuple[SensorResult, ...]:
    chest = worn_at(sensors, "chest")
    if chest is None:
        return sensors
    windows = [Window(row.start_s, row.end_s) for row in rows]
    frame = chest_frame(chest.recording, chest.orientation, windows)
    return tuple(replace(item, frame=frame) if item is chest else item for item in sensors)


# --- arms, then measures -----------------------------------------------------


def _bout_data(walks: Sequence[Walk], settings: Settings) -> tuple[BoutData, ...]:
    """Measure the arms (free walks first: they give the fallback plane), then the strides."""
    planes = {side: _free_plane(walks, side, settings) for side in SIDES}
    swings = [
        {side: _swing(walk, side, planes[side], settings) for side in walk.arms} for walk in walks
    ]
    return tuple(
        BoutData(
            row=walk.row,
            ordinal=ordinal,
            trunk=walk.trunk,
            arms=walk.arms,
            passes=walk.passes,
            contacts=walk.contacts,
            strides=walk.strides,
            yaw=walk.yaw,
            swing=swing,
            columns=stride_columns(walk.trunk, walk.strides, walk.yaw, swing),
        )
        for ordinal, (walk, swing) in enumerate(zip(walks, swings, strict=True))
    )


def _of_session(
    bouts: Sequence[BoutData], session: Session, sensors: Sequence[SensorResult]
) -> tuple[BoutData, ...]:
    """Give each bout what the measures need to know of the session and of the clocks."""
    worn = {side: worn_at(sensors, f"{side}_wrist") for side in SIDES}
    clock_sd_s = {side: item.clock.sd_s for side, item in worn.items() if item is not None}
    chest = worn_at(sensors, "chest")
    told = [notice.code for notice in _of_chest(chest)]
    return tuple(
        replace(
            bout,
            lane_m=session.lane_m,
            body_mass_kg=session.body_mass_kg,
            clock_sd_s=clock_sd_s,
            chest_doubt=next((code for code in CHEST_DOUBTS if code in told), ""),
        )
        for bout in bouts
    )


def _of_chest(chest: SensorResult | None) -> tuple[Notice, ...]:
    """Return what is told of how the chest sensor stood."""
    if chest is None:
        return ()
    return (*chest.orientation.notices, *(chest.frame.notices if chest.frame else ()))


def _free_plane(walks: Sequence[Walk], side: Side, settings: Settings) -> FreePlane | None:
    free = [walk for walk in walks if walk.row.hold == "free" and side in walk.arms]
    return free_plane(
        [walk.arms[side] for walk in free],
        [walk.strides if walk.trunk is not None else None for walk in free],
        settings.walk,
        trunks=[walk.trunk for walk in free],
    )


def _swing(
    walk: Walk,
    side: Side,
    plane: FreePlane | None,
    settings: Settings,
) -> StrideSwing:
    strides = walk.strides if walk.trunk is not None else None
    return stride_swing(
        walk.arms[side],
        strides,
        settings.walk,
        trunk=walk.trunk,
        free_normal=plane,
        held=arm_role(walk.row, side) == "held",
    )


# --- against the free walk ---------------------------------------------------


def _compared(
    session: Session,
    sensors: tuple[SensorResult, ...],
    bouts: tuple[BoutData, ...],
    settings: Settings,
) -> SessionScores:
    scores = [compute_scores(bout, settings.measures) for bout in bouts]
    comparisons = against_free_walk(bouts, scores, settings.carry)
    ladder = climb(bouts, comparisons, settings.carry)
    aims = read_aims(bouts, comparisons, ladder, settings.carry)
    results = tuple(
        BoutResult(
            bout,
            score,
            comparison,
            aim,
            notices=(
                *bout.notices,
                *score_notices(bout, score, settings.measures),
                *comparison.notices,
                *bout_checks(bout.row, comparison, settings.carry, score),
            ),
        )
        for bout, score, comparison, aim in zip(bouts, scores, comparisons, aims, strict=True)
    )
    retest = compare_tests(session.rom, settings.carry, bouts=_names_in_time(bouts))
    notices = _all_notices(session, sensors, bouts, results, settings)
    return SessionScores(session, sensors, results, ladder, retest, notices)


def _names_in_time(bouts: Sequence[BoutData]) -> list[str]:
    return [bout.row.bout for bout in sorted(bouts, key=lambda bout: bout.row.start_s)]


def _all_notices(
    session: Session,
    sensors: Sequence[SensorResult],
    bouts: Sequence[BoutData],
    results: Sequence[BoutResult],
    settings: Settings,
) -> tuple[Notice, ...]:
    found = list(session.notices)
    found += unknown_bouts(session.rom, [bout.row.bout for bout in bouts], session.rom_file)
    if not bouts:
        found.append(none_found(has_chest=worn_at(sensors, "chest") is not None))
    if session.bout_rows is None:
        found += check_passed_over(
            [item.recording for item in sensors],
            [item.orientation for item in sensors],
            [Window(bout.row.start_s, bout.row.end_s) for bout in bouts],
        )
    for item in sensors:
        found += [*item.recording.notices, *item.orientation.notices, *item.clock.notices]
        found += item.frame.notices if item.frame else ()
    found += sitting_notices(session.rom, _names_in_time(bouts))
    found += scatter_notices(session.rom)
    found += check_stated_times(session.recordings, _free_cadence_spm(results))
    found += check_covered(bouts, sensors)
    found += check_times(
        session.bout_rows or (), (worn_at(sensors, "chest") or sensors[0]).recording
    )
    found += check_forgotten(session.bout_rows or (), sensors, settings.walk)
    found += check_worn(bouts)
    found += check_moved(bouts, sensors)
    found += check_turned_alike(bouts)
    found += check_loose(bouts)
    for result in results:
        found += [*result.data.contacts.notices, *result.notices]
    return tuple(dict.fromkeys(found))


def _free_cadence_spm(results: Sequence[BoutResult]) -> dict[str, float]:
    """Return the cadence of each free walk, and of each bout of which no hold is known."""
    return {
        result.data.row.bout: score.estimate.value
        for result in results
        if result.data.row.hold in ("free", "unknown")
        for score in result.scores
        if score.measure == "cadence"
    }
