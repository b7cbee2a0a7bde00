"""One visit's results as rows, from its output folder or as just scored."""

from __future__ import annotations

import csv
import datetime as dt
import json
import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, NamedTuple

from imucarry.basics.errors import SessionError
from imucarry.basics.evidence.cohort import MDC_LEAST_PARTICIPANTS
from imucarry.basics.records import SIDES, RetestFinding, RomReading, SessionScores
from imucarry.basics.words import without_case
from imucarry.carry.kept import find_score
from imucarry.carry.retest import published_error
from imucarry.carry.rom_words import done_alike, read_design
from imucarry.carry.same_recording import Files, recordings_of, recordings_of_run
from imucarry.carry.visit_limits import with_swing_limits

NAN = float("nan")
RETEST_DIGITS = 2
"""Decimals of ``retest.csv``: this visit is rounded as an earlier one was."""

Row = Mapping[str, str | float]

NOTED = ("load_kg", "perturbed", "pain_0_10", "stop_reason", "note")
NOT_IN_STUDY = "not in the study given"
TOO_FEW_IN_STUDY = f" participants in the study given, {MDC_LEAST_PARTICIPANTS.value} needed"
"""Sources of an error that a study does not give; the number of people stands before the second."""

MATCHED_ARM = "arm_swing_kept_matched"


class Condition(NamedTuple):
    """How a load was held, and what it was."""

    hold: str
    loaded_side: str
    implement: str
    left_hold: str
    right_hold: str


CONDITION = Condition._fields


@dataclass(frozen=True, slots=True)
class Followed:
    """A measure that is followed from visit to visit, and its column in ``bout_summary.csv``."""

    measure: str
    side: str
    unit: str
    column: str
    low: str = ""
    high: str = ""


FOLLOWED = (
    Followed("yaw_kept", "none", "%", "yaw_kept_pct", "yaw_kept_ci_low_pct",
             "yaw_kept_ci_high_pct"),
    Followed("sternum_yaw_range", "none", "deg", "sternum_yaw_range_deg",
             "sternum_yaw_range_ci_low_deg", "sternum_yaw_range_ci_high_deg"),
    *(
        Followed(measure, side, unit, f"{side}_{stem}", f"{side}_{low}", f"{side}_{high}")
        for side in ("left", "right")
        for measure, unit, stem, low, high in (
            ("arm_swing_kept", "%", "arm_swing_kept_pct", "arm_swing_kept_ci_low_pct",
             "arm_swing_kept_ci_high_pct"),
            ("arm_swing", "deg", "arm_swing_deg", "arm_swing_ci_low_deg",
             "arm_swing_ci_high_deg"),
        )
    ),
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Visit:
    """Rows of ``bout_summary.csv``, ``retest.csv`` and ``ladder.csv`` of one visit.

    ``date`` is None where it is not known; ``current`` marks the visit that was just scored.
    ``matched_arms`` holds the rows of ``scores.csv`` that compare arms with the free walks of
    like pace, ``checks`` the code and place of each check of ``run.json``, ``recordings`` the
    files of the sensors.
    """

    session: str
    bouts: tuple[Row, ...]
    retest: tuple[Row, ...] = ()
    date: dt.date | None = None
    ladder: tuple[Row, ...] = ()
    current: bool = False
    matched_arms: tuple[Row, ...] = ()
    checks: tuple[tuple[str, str], ...] = ()
    recordings: Files = ()

    @property
    def name(self) -> str:
        """ "visit 2 (2026-02-10)"."""
        return f"visit {self.session}" + (f" ({self.date.isoformat()})" if self.date else "")


def by_date(visits: Sequence[Visit]) -> tuple[Visit, ...]:
    """Sort visits by date; one without a date keeps the place that it was given.

    Visits of one date keep the order that they were given.
    """
    dated = [k for k, visit in enumerate(visits) if visit.date is not None]
    ordered = iter(sorted(dated, key=lambda k: visits[k].date or dt.date.min))
    return tuple(visits[next(ordered)] if visit.date is not None else visit for visit in visits)


def condition_of(row: Row) -> Condition:
    """Return the condition of a row of ``ladder.csv`` or ``bout_summary.csv``."""
    return Condition(*(word(row, name) for name in CONDITION))


def number(row: Row, name: str) -> float:
    """Return a cell as a number; NaN where it is absent, empty or no number."""
    cell = row.get(name)
    try:
        return NAN if cell is None or cell == "" else float(cell)
    except ValueError:
        return NAN


def word(row: Row, name: str) -> str:
    """Return a cell as a word; "" where it is absent."""
    return str(row.get(name) or "")


def read_visit(folder: Path, participant: str) -> Visit:
    """Read the tables of an earlier visit's output folder.

    Raises
    ------
    SessionError
        If there are none, or if they are another participant's.
    """
    if not (folder / "bout_summary.csv").is_file():
        raise SessionError(_no_results(folder), file=folder.name or str(folder))
    bouts = _read_rows(folder / "bout_summary.csv")
    others = sorted({word(row, "participant") for row in bouts} - {participant})
    if others:
        raise SessionError(
            f"holds results of participant {others[0]!r}, this visit is of {participant!r}",
            file=folder.name,
        )
    session = word(bouts[0], "session") if bouts else folder.name
    tests, ladder = (_rows_if_there(folder / name) for name in ("retest.csv", "ladder.csv"))
    scores = _rows_if_there(folder / "scores.csv")
    bouts = with_swing_limits(bouts, scores)
    arms = tuple(row for row in scores if word(row, "measure") == MATCHED_ARM)
    run = _read_run(folder / "run.json")
    return Visit(
        session, bouts, tests, _date_of(run), ladder, matched_arms=arms, checks=_checks_of(run),
        recordings=recordings_of_run(run),
    )  # fmt: skip


def _no_results(folder: Path) -> str:
    """Say what to name instead of a folder that is no output folder of an earlier visit."""
    if not folder.is_dir():
        what = "is a file" if folder.exists() else "is not there"
    else:
        what = "holds no results of an earlier visit"
    return f"{what}; name the folder that --out named when that visit was scored"


def _read_run(file: Path) -> Mapping[str, Any]:
    """Return what a ``run.json`` holds; {} where it cannot be read."""
    try:
        run = json.loads(file.read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return {}
    return run if isinstance(run, dict) else {}


def _date_of(run: Mapping[str, Any]) -> dt.date | None:
    """Return the date of a visit; None where it is not said."""
    try:
        return dt.date.fromisoformat(run["date"])
    except (ValueError, KeyError, TypeError):
        return None


def _checks_of(run: Mapping[str, Any]) -> tuple[tuple[str, str], ...]:
    """Return the code and place of each check."""
    try:
        return tuple(
            (str(notice["code"]), str(notice["where"]))
            for notice in run["notices"]
            if notice["severity"] == "check"
        )
    except (KeyError, TypeError):
        return ()


def _rows_if_there(file: Path) -> tuple[Row, ...]:
    return _read_rows(file) if file.exists() else ()


def _read_rows(file: Path, column: str = "participant") -> tuple[Row, ...]:
    """Read a table that has a column."""
    try:
        text = file.read_text(encoding="utf-8-sig")
    except (OSError, UnicodeDecodeError) as error:
        raise SessionError(
            f"cannot be read as results of an earlier visit: {error}", file=file.name
        ) from error
    reader = csv.DictReader(text.splitlines())
    if column not in (reader.fieldnames or ()):
        raise SessionError(
            f"has no column {column}: name what an earlier run wrote", file=file.name
        )
    return tuple(reader)


def current_visit(result: SessionScores) -> Visit:
    """Return the rows of a visit that was just scored, as `read_visit` would read them."""
    bouts = []
    for bout in result.bouts:
        row = bout.data.row
        cells: dict[str, str | float] = {name: getattr(row, name) for name in CONDITION}
        cells |= {"bout": row.bout, "baseline_bouts": ";".join(bout.comparison.baseline_bouts)}
        cells |= {name: getattr(row, name) for name in NOTED}
        scores = (*bout.scores, *bout.comparison.scores)
        for item in FOLLOWED:
            score = find_score(scores, item.measure, item.side)
            if score is not None:
                cells |= {
                    item.column: score.estimate.value,
                    item.low: score.estimate.ci_low,
                    item.high: score.estimate.ci_high,
                }
        for side in SIDES:
            swing = find_score(scores, "arm_swing", side)
            cells[f"{side}_arm_role"] = swing.role if swing else "none"
        bouts.append(cells)
    tests = [_test_row(item, result.session.rom) for item in result.retest]
    rungs: list[Row] = [
        {
            **{name: getattr(rung, name) for name in CONDITION},
            "threshold_pct": rung.threshold_pct, "heaviest_kept_kg": rung.heaviest_kept_kg,
            "next_kg": rung.next_kg, "answer": rung.answer,
        }
        for rung in result.ladder
    ]  # fmt: skip
    session = result.session
    return Visit(
        session.session, tuple(bouts), tuple(tests), session.date, tuple(rungs), current=True,
        matched_arms=_matched_arms(result), checks=_checks(result),
        recordings=recordings_of(result),
    )  # fmt: skip


def _matched_arms(result: SessionScores) -> tuple[Row, ...]:
    """Return the arms' shares of the free walks of like pace, as in ``scores.csv``."""
    return tuple(
        {
            "bout": bout.data.row.bout, "side": score.side, "value": score.estimate.value,
            "ci_low": score.estimate.ci_low, "ci_high": score.estimate.ci_high,
            "missing_because": score.estimate.missing_because,
        }
        for bout in result.bouts
        for score in bout.comparison.scores
        if score.measure == MATCHED_ARM
    )  # fmt: skip


def _checks(result: SessionScores) -> tuple[tuple[str, str], ...]:
    of_bouts = (notice for bout in result.bouts for notice in bout.notices)
    notices = (*result.notices, *of_bouts)
    found = ((notice.code, notice.where) for notice in notices if notice.severity == "check")
    return tuple(dict.fromkeys(found))


def _test_row(found: RetestFinding, readings: Sequence[RomReading]) -> Row:
    """A shoulder test as in ``retest.csv``, and the published error of doing it once more.

    ``between_deg`` [deg] and ``between_source`` fit how the readings before were done; NaN
    and "" without one that fits.
    """
    before = [
        item
        for item in readings
        if (item.test, item.side, item.when) == (found.test, found.side, "before")
    ]
    fits = bool(before) and done_alike(before)
    published = published_error(read_design(before, ())) if fits else None
    return {
        "test": found.test,
        "side": found.side,
        "before_deg": round(found.before_deg, RETEST_DIGITS),
        "error_deg": found.error_deg,
        "error_source": found.error_source,
        "between_deg": published.error_deg if published else NAN,
        "between_source": published.source if published else "",
    }


def between_visit_error(item: Followed, bout: Row, reliability: Sequence[Row]) -> tuple[float, str]:
    """Return MDC95 between visits of the same measure and condition, and its source.

    Where the study's people changed from their first visit to their second, that is added:
    a person may change as they did. NaN where the study does not say it, with the reason.
    """
    matching = [
        row
        for row in reliability
        if word(row, "design") == "between_visit"
        and (word(row, "measure"), word(row, "side")) == (item.measure, item.side)
        and all(without_case(word(row, n)) == without_case(word(bout, n)) for n in CONDITION)
        and word(row, "perturbed") in ("", "none")
        and abs(number(row, "load_kg") - number(bout, "load_kg")) < 5e-4  # tables: 3 digits
    ]
    known = [row for row in matching if math.isfinite(number(row, "mdc95"))]
    if not known:
        return NAN, _why_no_error(matching) if reliability else ""
    row = max(known, key=lambda row: number(row, "mdc95"))
    error, source = number(row, "mdc95"), f"{number(row, 'n_participants'):.0f} participants"
    if word(row, "systematic") == "true":
        error += abs(number(row, "order_effect"))
        source += ", who changed from visit to visit"
    return error, f"between visits, {source}"


def _why_no_error(matching: Sequence[Row]) -> str:
    """Say why the rows that a study has of a carry give no error."""
    if not matching:
        return NOT_IN_STUDY
    n = max(number(row, "n_participants") for row in matching)
    return f"{n:.0f}{TOO_FEW_IN_STUDY}"


def read_reliability(file: Path) -> tuple[Row, ...]:
    """Read the ``reliability.csv`` of a study.

    Raises
    ------
    SessionError
        If it is none, as where its column ``mdc95`` is not there.
    """
    return _read_rows(file, "mdc95")
