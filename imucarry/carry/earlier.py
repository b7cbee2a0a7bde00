"""Over weeks: a visit beside the earlier visits of the same participant."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np

from imucarry.basics.evidence.carry import BETWEEN_WALK_CV_PCT
from imucarry.basics.evidence.measures import INTERVAL_LEVEL
from imucarry.basics.records import Notice, SessionScores
from imucarry.basics.settings import CarrySettings
from imucarry.basics.statistics import normal_quantile
from imucarry.carry.alike_names import alike_implements, alike_tests
from imucarry.carry.earlier_notices import history_notices, moved_free_walks
from imucarry.carry.retest import ROUNDING_DEG
from imucarry.carry.rom_own import OWN_READINGS
from imucarry.carry.visit_arms import by_own_walks, in_doubt
from imucarry.carry.visits import (
    FOLLOWED,
    NAN,
    Condition,
    Followed,
    Row,
    Visit,
    between_visit_error,
    by_date,
    condition_of,
    current_visit,
    number,
    read_visit,
    word,
)

Key = tuple[str, ...]

IF_DONE_ALIKE = "published, if the test was done the same way at every visit: "
"""How the source of an error begins that is taken from how the current visit's test was done."""


@dataclass(frozen=True, slots=True)
class HistoryRow:
    """One measure in one condition at one visit.

    ``change`` is against the first visit that has the condition; ``error`` is the
    smallest change between visits that is not error (95 %), NaN where not known;
    ``finding`` is a key of ``HISTORY_FINDINGS``. ``place`` counts the visits in their
    order from 0. ``span_low`` and ``span_high`` hold the intervals of all its bouts, those in
    degrees widened by how much walks of one day differ.
    ``in_doubt`` is a free arm's share that has no fair free walk.
    """

    measure: str  # of the table of measures, or the name of a shoulder test
    side: str
    unit: str
    hold: str  # "" for a shoulder test
    loaded_side: str
    load_kg: float
    implement: str
    session: str
    value: float
    ci_low: float = NAN
    ci_high: float = NAN
    n_bouts: int = 0
    change: float = NAN
    error: float = NAN
    error_source: str = ""
    finding: str = "first"
    place: int = 0
    span_low: float = NAN
    span_high: float = NAN
    in_doubt: bool = False
    left_hold: str = ""  # of each hand, where they differ
    right_hold: str = ""

    @property
    def condition(self) -> Condition:
        """The hold, side and implement."""
        hands = self.left_hold, self.right_hold
        return Condition(self.hold, self.loaded_side, self.implement, *hands)


@dataclass(frozen=True, slots=True)
class History:
    """The visits of one participant by date, what they share, and what to know of it.

    ``moved`` holds the places of the visits whose free walk differs from the first one's.
    """

    visits: tuple[Visit, ...]
    rows: tuple[HistoryRow, ...]
    notices: tuple[Notice, ...] = ()
    moved: tuple[int, ...] = ()


HISTORY_FINDINGS = {
    "first": "the first visit that has it: later ones are compared with it",
    "increased_more_than_error": "it rose by more than the error between visits",
    "decreased_more_than_error": "it fell by more than the error between visits",
    "within_error": "the change is within the error between visits",
    "not_decidable": "the error between visits is not known",
    "in_doubt": "at one of the visits the free arm had no fair free walk to be compared with",
}
"""Code of a finding, and what it means."""


def over_weeks(
    result: SessionScores,
    folders: Sequence[Path],
    settings: CarrySettings,
    *,
    reliability: Sequence[Row] = (),
) -> History:
    """Set this visit beside the results of earlier visits.

    Parameters
    ----------
    result : SessionScores
    folders : sequence of Path
        Output folders of earlier visits.
    settings : CarrySettings
    reliability : sequence of rows, optional
        Of the ``reliability.csv`` of a cohort that was measured alike: its
        between-visit rows give the error.

    Returns
    -------
    History
        Visits by date, this one at its place. Those without a date keep the place
        that they were given (this visit: last), with a notice; so does an "earlier"
        visit that is later than this one.

    Raises
    ------
    SessionError
        If a folder holds no results or those of another participant.
    """
    given = [read_visit(folder, result.session.participant) for folder in folders]
    visits = alike_tests(alike_implements(by_date([*given, current_visit(result)])))
    return History(
        visits,
        compare_visits(visits, reliability, settings.between_walk_cv_pct),
        history_notices(visits, settings),
        moved_free_walks(visits, settings),
    )


def compare_visits(
    visits: Sequence[Visit],
    reliability: Sequence[Row] = (),
    between_walk_cv_pct: float = BETWEEN_WALK_CV_PCT.value,
) -> tuple[HistoryRow, ...]:
    """Follow rotation, swing and shoulder tests from visit to visit.

    Parameters
    ----------
    visits : sequence of Visit
        Of one participant, in the order in which they are to stand: oldest first.
    reliability : sequence of rows, optional
        As in `over_weeks`.
    between_walk_cv_pct : float [%]
        How much walks of one day differ: an interval in degrees is of the strides alone.

    Returns
    -------
    tuple of HistoryRow
        Sorted by measure, condition and visit; what only one visit has is left out.
        Bouts of one condition and visit are averaged, and have an interval only
        where there is a single one. Perturbed bouts are left out. Free arms are read
        as the rows of their own visit are (`by_own_walks`). Shoulder tests are
        compared by their readings before the carries, with the published error that
        fits how the current visit's were done, as if they had been done so at every
        visit; else with the published or given error of ``retest.csv``. The scatter of
        repeats in one sitting is no error between visits.
    """
    cells: dict[Key, list[HistoryRow]] = {}
    published = _published_errors(visits)
    for place, visit in enumerate(map(by_own_walks, visits)):
        bouts = _bout_rows(visit, reliability, between_walk_cv_pct / 100.0)
        for key, row in (*bouts, *_test_rows(visit, published)):
            cells.setdefault(key, []).append(replace(row, place=place))
    followed = [rows for _, rows in sorted(cells.items()) if len(rows) > 1]
    return tuple(row for rows in followed for row in _against_first(rows))


def _against_first(rows: Sequence[HistoryRow]) -> list[HistoryRow]:
    """Compare each visit with the first; the error is the latest that is known."""
    known = [row for row in rows if math.isfinite(row.error)]
    last = (known or rows)[-1]  # without any known error the source says why, as of a study
    error, source = last.error, last.error_source
    later = [
        replace(row, change=change, error=error, error_source=source,
                finding="in_doubt" if rows[0].in_doubt or row.in_doubt
                else change_finding(change, error))
        for row, change in ((row, row.value - rows[0].value) for row in rows[1:])
    ]  # fmt: skip
    return [replace(rows[0], error=error, error_source=source), *later]


def change_finding(change: float, error: float) -> str:
    """Return whether a change between visits is beyond its error: a key of the findings."""
    if not math.isfinite(change + error):
        return "not_decidable"
    if abs(change) <= error + ROUNDING_DEG:
        return "within_error"
    return f"{'increased' if change > 0 else 'decreased'}_more_than_error"


# --- bouts ------------------------------------------------------------------------


def _bout_rows(
    visit: Visit, reliability: Sequence[Row], walk_cv: float
) -> list[tuple[Key, HistoryRow]]:
    """One row for each measure and condition of a visit."""
    groups: dict[Key, list[Row]] = {}
    for row in visit.bouts:
        if word(row, "perturbed") in ("", "none"):
            load = f"{number(row, 'load_kg'):012.3f}"
            groups.setdefault((*condition_of(row), load), []).append(row)
    found = []
    for condition, rows in groups.items():
        free = word(rows[0], "hold") == "free"
        for item in FOLLOWED:
            if free and item.measure.endswith("_kept"):
                continue  # of the other free walks: 100 % at every visit
            there = [row for row in rows if math.isfinite(number(row, item.column))]
            if there:
                key = (item.measure, item.side, *condition)
                found.append((key, _bout_row(item, there, visit.session, reliability, walk_cv)))
    return found


def _bout_row(
    item: Followed, rows: Sequence[Row], session: str, reliability: Sequence[Row], walk_cv: float
) -> HistoryRow:
    one = rows[0]
    spans = [_span(item, row, walk_cv) for row in rows]
    single = len(rows) == 1
    error, source = between_visit_error(item, one, reliability)
    return HistoryRow(
        measure=item.measure,
        side=item.side,
        unit=item.unit,
        **condition_of(one)._asdict(),
        load_kg=number(one, "load_kg"),
        session=session,
        value=float(np.mean([number(row, item.column) for row in rows])),
        ci_low=number(one, item.low) if single else NAN,
        ci_high=number(one, item.high) if single else NAN,
        n_bouts=len(rows),
        error=error,
        error_source=source,
        # NaN where any bout has no interval.
        span_low=float(np.min([low for low, _ in spans])),
        span_high=float(np.max([high for _, high in spans])),
        in_doubt=item.measure == "arm_swing_kept" and any(in_doubt(r, item.side) for r in rows),
    )


def _span(item: Followed, row: Row, walk_cv: float) -> tuple[float, float]:
    """Return a bout's interval; in degrees with the variance of walks of one day added."""
    value, low, high = (number(row, name) for name in (item.column, item.low, item.high))
    if item.unit != "deg":
        return low, high
    walks = normal_quantile(0.5 + 0.5 * INTERVAL_LEVEL.value) * walk_cv * value
    return value - math.hypot(value - low, walks), value + math.hypot(high - value, walks)


# --- shoulder tests -------------------------------------------------------------------


def _published_errors(visits: Sequence[Visit]) -> dict[Key, tuple[float, str]]:
    """The published error of each test and side for how the current visit did it."""
    return {
        (word(row, "test"), word(row, "side")): (
            number(row, "between_deg"),
            IF_DONE_ALIKE + word(row, "between_source"),
        )
        for visit in visits
        if visit.current
        for row in visit.retest
        if math.isfinite(number(row, "between_deg"))
    }


def _test_rows(
    visit: Visit, published: Mapping[Key, tuple[float, str]]
) -> list[tuple[Key, HistoryRow]]:
    """One row for each shoulder test and side of a visit, by its readings before."""
    found: list[tuple[Key, HistoryRow]] = []
    for row in visit.retest:
        test, side, value = word(row, "test"), word(row, "side"), number(row, "before_deg")
        error, source = published.get((test, side)) or _error_of_visit(row)
        if math.isfinite(value):
            item = HistoryRow(
                test, side, "deg", "", "", NAN, "", visit.session, value,
                error=error, error_source=source,
            )  # fmt: skip
            found.append((("~test", test, side), item))
    return found


def _error_of_visit(row: Row) -> tuple[float, str]:
    """The published or given error of a row of ``retest.csv``; NaN and "" for another."""
    source = word(row, "error_source")
    of_sitting = source.startswith(OWN_READINGS)
    return (NAN, "") if of_sitting else (number(row, "error_deg"), source)
