"""Tables of the page: measures, dose, data quality, what was understood, settings."""

from __future__ import annotations

import math
import string
from collections.abc import Iterable, Sequence

from imucarry import __version__
from imucarry.basics.records import (
    BoutResult,
    Score,
    SessionScores,
)
from imucarry.basics.settings import Settings, as_tree
from imucarry.report.definitions import BY_ID, RANK
from imucarry.report.lookup import all_scores, in_even_parts
from imucarry.report.views import Cell, Table, TableRow
from imucarry.report.wording import say, texts
from imucarry.report.wording.implements import NamedFor, several_implements
from imucarry.report.wording.numbers import beside, decimals, number, quantity, unit_name

SHARES = ("yaw_kept", "yaw_kept_matched", "arm_swing_kept", "arm_swing_kept_matched")
"""Measures that are held against the lines at which rotation or swing is called less."""

MOST_COLUMNS = 10
"""Bouts that one table of measures shows beside one another."""

NOT_ABOUT = ("not_held", "held_arm", "not_loaded", "no_loaded_side")
"""Reasons that are no lack: the bout is none that the measure is about."""

Key = tuple[str, str]
"""Measure and side."""


def measure_tables(
    scores: SessionScores, limits_pct: say.Limits = say.USUAL_LIMITS
) -> tuple[Table, ...]:
    """One table a group of measures: a row a measure and side, a column a bout.

    A long visit's bouts are spread over several tables that a printed page is wide enough for.
    Shares of the free walk are rounded so that none seems to lie on one of `limits_pct`.
    """
    found = _rows_of(scores.bouts)
    keys = sorted(found, key=lambda key: (RANK.get(key[0], len(RANK)), key))
    named_for = several_implements(scores.bouts)
    tables = []
    for group, caption in texts.GROUPS.items():
        chosen = {key: found[key] for key in keys if _group(key[0]) == group}
        for bouts in in_even_parts(scores.bouts, MOST_COLUMNS) if chosen else ():
            name = caption if len(bouts) == len(scores.bouts) else _of_bouts(caption, bouts)
            tables.append(_measure_table(bouts, chosen, name, named_for, limits_pct))
    return tuple(tables)


def _of_bouts(caption: str, bouts: Sequence[BoutResult]) -> str:
    first, last = (say.bout_name(bout.data.row) for bout in (bouts[0], bouts[-1]))
    return texts.TABLE["of_bouts"].format(caption=caption, first=first, last=last)


def _rows_of(bouts: Iterable[BoutResult]) -> dict[Key, dict[int, Score]]:
    """Scores by (measure, side), then by the bout's ordinal."""
    found: dict[Key, dict[int, Score]] = {}
    for bout in bouts:
        for score in all_scores(bout):
            found.setdefault((score.measure, score.side), {})[bout.data.ordinal] = score
    return {key: scores for key, scores in found.items() if not _never_applies(scores)}


def _never_applies(scores: dict[int, Score]) -> bool:
    """Whether a row would only say of every bout that it is not about such a bout."""
    found = [score.estimate for score in scores.values()]
    return all(
        not math.isfinite(part.value) and part.missing_because in NOT_ABOUT for part in found
    )


def _group(measure: str) -> str:
    group = BY_ID[measure].group if measure in BY_ID else "other"
    return group if group in texts.GROUPS else "other"


def _measure_table(
    bouts: Sequence[BoutResult],
    chosen: dict[Key, dict[int, Score]],
    caption: str,
    named_for: NamedFor,
    limits_pct: say.Limits,
) -> Table:
    letters: dict[str, str] = {}
    rows = tuple(_measure_row(bouts, key, chosen[key], letters, limits_pct) for key in chosen)
    heads = tuple(say.bout_name(bout.data.row) for bout in bouts)
    below = tuple(say.hold_in_short(bout.data.row, named_for) for bout in bouts)
    notes = tuple(f"{letter}: {say.note(code)}" for code, letter in letters.items())
    return Table(caption, texts.TABLE["measure"], heads, rows, notes, below)


def _measure_row(
    bouts: Sequence[BoutResult],
    key: Key,
    by_bout: dict[int, Score],
    letters: dict[str, str],
    limits_pct: say.Limits,
) -> TableRow:
    measure, side = key
    unit = next(iter(by_bout.values())).unit
    meaning = BY_ID.get(measure)
    label = meaning.label if meaning else measure.replace("_", " ")
    side_words = f", {texts.SIDES[side]}" if side != "none" else ""
    cells = tuple(
        _cell(by_bout.get(bout.data.ordinal), unit, letters, limits_pct) for bout in bouts
    )
    return TableRow(label + side_words, cells, measure if meaning else "", unit_name(unit))


def _cell(score: Score | None, unit: str, letters: dict[str, str], limits_pct: say.Limits) -> Cell:
    """A value over its interval, or a dash over the reason; footnotes get their letters."""
    if score is None:
        return Cell("")
    found = score.estimate
    if not math.isfinite(found.value):
        return Cell(quantity(found.value, unit), say.reason(found.missing_because), missing=True)
    lines = limits_pct if score.measure in SHARES else ()
    value, low, high = (
        beside(part, lines, decimals(unit)) for part in (found.value, found.ci_low, found.ci_high)
    )
    marks = " ".join(letters.setdefault(code, _letter(len(letters))) for code in found.notes)
    if not math.isfinite(found.ci_low) or not math.isfinite(found.ci_high):
        return Cell(value, marks=marks)
    return Cell(value, texts.TABLE["interval"].format(low=low, high=high), marks=marks)


def _letter(number_of: int) -> str:
    return string.ascii_lowercase[number_of % len(string.ascii_lowercase)]


def dose_table(scores: SessionScores) -> Table | None:
    """What the bouts sheet says of each bout."""
    if not scores.bouts:
        return None
    extra = sorted({name for bout in scores.bouts for name in bout.data.row.extra})
    rows = [_dose_cells(bout) for bout in scores.bouts]
    shown = [key for key in texts.DOSE if any(row[key] for row in rows)]
    heads = (*(texts.DOSE[key] for key in shown), *extra)
    return Table(
        texts.PAGE["dose"],
        texts.TABLE["bout"],
        heads,
        tuple(
            TableRow(
                say.bout_name(bout.data.row),
                (*(Cell(row[key]) for key in shown),
                 *(Cell(bout.data.row.extra.get(name, "")) for name in extra)),
            )
            for bout, row in zip(scores.bouts, rows, strict=True)
        ),
    )  # fmt: skip


def _dose_cells(bout: BoutResult) -> dict[str, str]:
    row = bout.data.row
    return {
        "hold": say.hold_and_load(row),
        "implement": row.implement,
        "perturbed": "" if row.perturbed == "none" else row.perturbed,
        "order": _blank(row.order, 0),
        "rest": _blank(row.rest_before_s, 0),
        "rpe": _blank(row.rpe_0_10, 0),
        "pain": _blank(row.pain_0_10, 0),
        "stop": row.stop_reason,
        "shoulder": row.shoulder_rotation_aim.replace("_", " "),
        "note": row.note,
    }


def _blank(value: float, digits: int) -> str:
    return number(value, digits) if math.isfinite(value) else ""


def understood_tables(scores: SessionScores) -> tuple[Table, ...]:
    """One table a file: what each column was taken for, and why."""
    heads = texts.TABLE
    tables = {}
    for sensor in scores.sensors:
        for reading in sensor.recording.readings:
            rows = tuple(
                TableRow(c.name, (Cell(c.role), Cell(c.unit), Cell(c.rule)))
                for c in reading.columns
            )
            notes = tuple(part for part in (reading.layout, reading.time_rule) if part)
            columns = (heads["role"], heads["unit"], heads["rule"])
            tables[reading.file] = Table(reading.file, heads["column"], columns, rows, notes)
    return tuple(tables.values())


def settings_tables(settings: Settings) -> tuple[Table, ...]:
    """The version and every setting of the run."""
    heads = texts.TABLE
    rows = [TableRow("imucarry", (Cell(__version__),))]
    for room, values in as_tree(settings).items():
        rows += [TableRow(f"{room}.{key}", (Cell(_plain(v)),)) for key, v in values.items()]
    return (Table(texts.PAGE["settings"], heads["setting"], (heads["value"],), tuple(rows)),)


def _plain(value: object) -> str:
    return f"{value:g}" if isinstance(value, float) else str(value)
