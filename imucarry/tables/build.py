"""Fill every table from `SessionScores`."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from typing import Any

import numpy as np

from imucarry.basics.records import (
    DROP_REASONS,
    BoutResult,
    Estimate,
    Notice,
    Score,
    SessionScores,
)
from imucarry.carry.earlier import History, HistoryRow
from imucarry.tables.columns import Table
from imucarry.tables.schema import (
    BOUT_SUMMARY,
    CONTACTS,
    LADDER,
    RETEST,
    SCORES,
    STRIDES,
    VISITS,
)
from imucarry.tables.text import carried_names, safe_text

Columns = dict[str, list[Any]]

NAN = float("nan")

_ROW_FIELDS = (
    *("hold", "loaded_side", "load_kg", "aim", "left_hold", "right_hold"),
    *("left_load_kg", "right_load_kg", "perturbed", "shoulder_rotation_aim", "implement"),
    *("order", "rest_before_s", "rpe_0_10", "pain_0_10", "stop_reason", "distance_m", "note"),
)


def _stack(parts: Sequence[Columns], table: Table) -> Columns:
    """Join the rows of several parts; a table without rows keeps its columns."""
    return {
        column.name: [value for part in parts for value in part[column.name]]
        for column in table.columns
    }


def _with_who(scores: SessionScores, columns: Columns) -> Columns:
    n_rows = len(next(iter(columns.values()), []))
    who = {
        "participant": [scores.session.participant] * n_rows,
        "session": [scores.session.session] * n_rows,
    }
    return {**who, **columns}


# --- strides.csv and contacts.csv --------------------------------------------


def strides(scores: SessionScores) -> Columns:
    """Return ``strides.csv``: every stride of every bout, left-out ones too."""
    return _stack([_with_who(scores, _bout_strides(bout)) for bout in scores.bouts], STRIDES)


def _bout_strides(bout: BoutResult) -> Columns:
    data = bout.data
    cut = data.strides
    n_strides = cut.start_s.size
    in_pass = cut.pass_number > 0
    plain: Columns = {
        "bout": [data.row.bout] * n_strides,
        "stride": list(range(1, n_strides + 1)),
        "pass": _empty_where(cut.pass_number, ~in_pass),
        "stride_in_pass": _empty_where(cut.stride_in_pass, ~in_pass),
        "start_s": cut.start_s.tolist(),
        "end_s": cut.end_s.tolist(),
        "left_contact_s": cut.start_s.tolist(),
        "right_contact_s": cut.right_contact_s.tolist(),
        "stride_time_s": (cut.end_s - cut.start_s).tolist(),
        "left_step_time_s": cut.left_step_time_s.tolist(),
        "right_step_time_s": cut.right_step_time_s.tolist(),
        "turning": cut.turning.tolist(),
        "kept_timing": cut.kept_timing.tolist(),
        "kept_yaw": cut.kept_yaw.tolist(),
        "kept_left_arm": cut.kept_left_arm.tolist(),
        "kept_right_arm": cut.kept_right_arm.tolist(),
        "drop_reason": _drop_words(bout),
    }
    measured = {
        column.name: data.columns[column.name].tolist()
        for column in STRIDES.columns
        if column.name in data.columns and column.name not in plain
    }
    return {**plain, **measured}


def _empty_where(numbers: np.ndarray[Any, Any], empty: np.ndarray[Any, Any]) -> list[int | None]:
    return [None if gone else int(n) for n, gone in zip(numbers, empty, strict=True)]


def _drop_words(bout: BoutResult) -> list[str]:
    """Return why each stride was left out of any count: the chest's reasons and the arms'."""
    cut = bout.data.strides
    flags = [
        (word, reasons[word])
        for word in DROP_REASONS
        for reasons in (cut.drop, cut.arm_drop)
        if word in reasons
    ]
    return [
        ";".join(dict.fromkeys(word for word, flag in flags if flag[k]))
        for k in range(cut.start_s.size)
    ]


def contacts(scores: SessionScores) -> Columns:
    """Return ``contacts.csv``: every foot contact."""
    return _stack([_with_who(scores, _bout_contacts(bout)) for bout in scores.bouts], CONTACTS)


def _bout_contacts(bout: BoutResult) -> Columns:
    found = bout.data.contacts
    return {
        "bout": [bout.data.row.bout] * found.time_s.size,
        "pass": _empty_where(found.pass_number, found.pass_number <= 0),
        "contact_s": found.time_s.tolist(),
        "side": ["left" if left else "right" for left in found.is_left],
    }


# --- scores.csv --------------------------------------------------------------


def measures(scores: SessionScores) -> Columns:
    """Return ``scores.csv``: one measure of one bout and side a row."""
    rows = [
        (
            *(score.bout, score.measure, score.side, score.role),
            *(score.estimate.value, score.unit, score.estimate.ci_low, score.estimate.ci_high),
            *(score.estimate.n_used, score.estimate.missing_because),
            ";".join(score.estimate.notes),
        )
        for bout in scores.bouts
        for score in (*bout.scores, *bout.comparison.scores)
    ]
    names = [column.name for column in SCORES.columns if column.name not in _WHO_NAMES]
    return _with_who(scores, _transposed(rows, names))


_WHO_NAMES = ("participant", "session")


def _transposed(rows: Sequence[tuple[Any, ...]], names: Sequence[str]) -> Columns:
    return {name: [row[k] for row in rows] for k, name in enumerate(names)}


# --- bout_summary.csv --------------------------------------------------------


SHEET_PREFIX = "sheet_"


def extra_names(scores: SessionScores) -> dict[str, str]:
    """Return the sheet's unknown columns, in order of first appearance, with their output names.

    A column named as a result is gets the prefix ``sheet_``, so that no result is overwritten.
    """
    own = (name for bout in scores.bouts for name in bout.data.row.extra)
    return carried_names(own, (column.name for column in BOUT_SUMMARY.columns), SHEET_PREFIX)


def extra_columns(scores: SessionScores) -> list[str]:
    """Return the names of the sheet's unknown columns in ``bout_summary.csv``."""
    return list(extra_names(scores).values())


def renamed_columns(scores: SessionScores) -> tuple[Notice, ...]:
    """Return one notice for every column of the sheet that has another name in the output."""
    return tuple(
        Notice(
            "column_renamed",
            f"the name {name!r} is taken in bout_summary.csv; this column is written as {free!r}",
            file=scores.session.bouts_file,
            where=f"column {name}",
        )
        for name, free in extra_names(scores).items()
        if free != safe_text(name)
    )


def bout_summary(scores: SessionScores) -> Columns:
    """Return ``bout_summary.csv``: one bout a row, the sheet's unknown columns last."""
    rows = [_summary_row(scores, bout) for bout in scores.bouts]
    names = [column.name for column in BOUT_SUMMARY.columns if column.name not in _WHO_NAMES]
    columns = {name: [row[name] for row in rows] for name in names}
    extra: Columns = {
        free: [bout.data.row.extra.get(name, "") for bout in scores.bouts]
        for name, free in extra_names(scores).items()
    }
    return _with_who(scores, {**columns, **extra})


def _summary_row(scores: SessionScores, bout: BoutResult) -> dict[str, Any]:
    data, row = bout.data, bout.data.row
    found: dict[tuple[str, str], Score] = {
        (score.measure, score.side): score for score in (*bout.scores, *bout.comparison.scores)
    }

    def estimate(measure: str, side: str = "none") -> Estimate:
        score = found.get((measure, side))
        return score.estimate if score else Estimate()

    yaw = estimate("sternum_yaw_range")
    unseen = data.trunk is None  # without a chest sensor there are no strides to count
    summary: dict[str, Any] = {name: getattr(row, name) for name in _ROW_FIELDS}
    summary |= {
        "bout": row.bout,
        "baseline": ";".join(row.baseline),
        "load_pct_bodymass": 100.0 * row.load_kg / scores.session.body_mass_kg,
        "start_s": row.start_s,
        "end_s": row.end_s,
        "n_strides": None if unseen else data.strides.start_s.size,
        "n_kept_yaw": None if unseen else int(data.strides.kept_yaw.sum()),
        "cadence_spm": estimate("cadence").value,
        "speed_mps": estimate("speed").value,
        "sternum_yaw_range_deg": yaw.value,
        "sternum_yaw_range_ci_low_deg": yaw.ci_low,
        "sternum_yaw_range_ci_high_deg": yaw.ci_high,
        "baseline_bouts": ";".join(bout.comparison.baseline_bouts),
        "stride_time_cv_pct": estimate("stride_time_cv").value,
        "step_time_asymmetry_pct": estimate("step_time_asymmetry").value,
        "rotation_finding": bout.comparison.rotation_finding,
        "finding_because": bout.comparison.finding_because,
        "aim_reading": bout.aim_reading.code,
    }
    summary |= _kept("yaw", estimate("yaw_kept"))
    for side in ("left", "right"):
        swing = found.get(("arm_swing", side))
        summary[f"{side}_arm_role"] = swing.role if swing else "none"
        summary[f"{side}_arm_swing_deg"] = swing.estimate.value if swing else NAN
        summary |= _kept(f"{side}_arm_swing", estimate("arm_swing_kept", side))
    return summary


def _kept(name: str, estimate: Estimate) -> dict[str, float]:
    return {
        f"{name}_kept_pct": estimate.value,
        f"{name}_kept_ci_low_pct": estimate.ci_low,
        f"{name}_kept_ci_high_pct": estimate.ci_high,
    }


# --- ladder.csv and retest.csv -----------------------------------------------


def ladder(scores: SessionScores) -> Columns:
    """Return ``ladder.csv``: one hold, side and implement a row."""
    return _from_records(scores, scores.ladder, LADDER)


def retest(scores: SessionScores) -> Columns:
    """Return ``retest.csv``: one shoulder test and side a row."""
    return _from_records(scores, scores.retest, RETEST)


def _from_records(scores: SessionScores, records: Sequence[Any], table: Table) -> Columns:
    names = [column.name for column in table.columns if column.name not in _WHO_NAMES]
    columns = {name: [getattr(record, name) for record in records] for name in names}
    return _with_who(scores, columns)


def visits(scores: SessionScores, history: History | None) -> Columns:
    """Return ``visits.csv``: one measure in one condition at one visit a row; none without."""
    rows = history.rows if history else ()
    who: Columns = {
        "participant": [scores.session.participant] * len(rows),
        "visit": [row.place + 1 for row in rows],
        "date": [_date_of(history, row.place) for row in rows] if history else [],
        "hold": [_hold_of(row) for row in rows],
    }
    named = {
        column.name: [getattr(row, column.name) for row in rows]
        for column in VISITS.columns
        if column.name not in who
    }
    return {column.name: {**who, **named}[column.name] for column in VISITS.columns}


def _hold_of(row: HistoryRow) -> str:
    """Return the hold; of a mixed one both hands'."""
    hands = f" ({row.left_hold}, {row.right_hold})" if row.hold == "mixed" else ""
    return f"{row.hold}{hands}"


def _date_of(history: History, place: int) -> str:
    date = history.visits[place].date
    return date.isoformat() if date else ""


BUILDERS: dict[str, Callable[[SessionScores], Columns]] = {
    "strides": strides,
    "contacts": contacts,
    "scores": measures,
    "bout_summary": bout_summary,
    "ladder": ladder,
    "retest": retest,
}
"""One builder a table of a session, by the table's name."""


def is_empty(value: Any) -> bool:
    """Return whether a cell is undefined: None, "" or NaN."""
    return value is None or value == "" or (isinstance(value, float) and math.isnan(value))
