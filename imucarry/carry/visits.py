"""One visit's results as rows, from its output folder or as just scored."""

from __future__ import annotations

import csv
import datetime as dt
import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from imucarry.basics.errors import SessionError
from imucarry.basics.records import RetestFinding, RomReading, SessionScores
from imucarry.carry.implements import as_first_written
from imucarry.carry.kept import find_score
from imucarry.carry.retest import published_error
from imucarry.carry.rom_words import done_alike, read_design

NAN = float("nan")
RETEST_DIGITS = 2
"""Decimals of ``retest.csv``: this visit is rounded as an earlier one was."""

Row = Mapping[str, str | float]

CONDITION = ("hold", "loaded_side", "implement", "left_hold", "right_hold")
NOTED = ("load_kg", "perturbed", "pain_0_10", "stop_reason")


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
    """

    session: str
    bouts: tuple[Row, ...]
    retest: tuple[Row, ...] = ()
    date: dt.date | None = None
    ladder: tuple[Row, ...] = ()
    current: bool = False

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


def alike_implements(visits: Sequence[Visit]) -> tuple[Visit, ...]:
    """Write an implement in all visits as it was written first: case and spaces do not matter."""
    names = as_first_written(
        word(row, "implement") for visit in visits for row in (*visit.bouts, *visit.ladder)
    )

    def named(rows: Sequence[Row]) -> tuple[Row, ...]:
        return tuple({**row, "implement": next(names)} for row in rows)

    return tuple(
        replace(visit, bouts=named(visit.bouts), ladder=named(visit.ladder)) for visit in visits
    )


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
    bouts = _read_rows(folder / "bout_summary.csv")
    others = sorted({word(row, "participant") for row in bouts} - {participant})
    if others:
        raise SessionError(
            f"holds results of participant {others[0]!r}, this visit is of {participant!r}",
            file=folder.name,
        )
    session = word(bouts[0], "session") if bouts else folder.name
    tests, ladder = (_rows_if_there(folder / name) for name in ("retest.csv", "ladder.csv"))
    return Visit(session, bouts, tests, _date_of(folder / "run.json"), ladder)


def _date_of(run: Path) -> dt.date | None:
    """Return the date of a visit from its ``run.json``; None where that does not say it."""
    try:
        return dt.date.fromisoformat(json.loads(run.read_text(encoding="utf-8"))["date"])
    except (OSError, ValueError, KeyError, TypeError):
        return None


def _rows_if_there(file: Path) -> tuple[Row, ...]:
    return _read_rows(file) if file.exists() else ()


def _read_rows(file: Path) -> tuple[Row, ...]:
    try:
        text = file.read_text(encoding="utf-8-sig")
    except (OSError, UnicodeDecodeError) as error:
        raise SessionError(
            f"cannot be read as results of an earlier visit: {error}", file=file.name
        ) from error
    reader = csv.DictReader(text.splitlines())
    if "participant" not in (reader.fieldnames or ()):
        raise SessionError(
            "has no column participant: name the output folder of an earlier run", file=file.name
        )
    return tuple(reader)


def current_visit(result: SessionScores) -> Visit:
    """Return the rows of a visit that was just scored, as `read_visit` would read them."""
    bouts = []
    for bout in result.bouts:
        row = bout.data.row
        cells: dict[str, str | float] = {name: getattr(row, name) for name in CONDITION}
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
        session.session, tuple(bouts), tuple(tests), session.date, tuple(rungs), current=True
    )


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
