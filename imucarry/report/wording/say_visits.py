"""What changed since earlier visits in short lines, for page and terminal."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from imucarry.basics.records import SIDES
from imucarry.carry.earlier import IF_DONE_ALIKE, History, HistoryRow, change_finding
from imucarry.report.wording import texts, words_visits
from imucarry.report.wording.numbers import kilograms
from imucarry.report.wording.numbers import number as written
from imucarry.report.wording.same_load import clear_change
from imucarry.report.wording.say_heaviest import MOST_NAMED, few_of, ladder_lines
from imucarry.report.wording.say_pains import pain_lines
from imucarry.report.wording.visit_names import ToldVisits, told_visits

Places = dict[int, HistoryRow]
CLEAR = {"more", "less"}

MEASURES = {False: ("yaw_kept", "arm_swing_kept"), True: ("sternum_yaw_range", "arm_swing")}
"""Trunk and arms as shares of the free walks, and in degrees where these differ."""


def repeated(history: History) -> bool:
    """Whether any loaded carry of this visit stands at another visit too."""
    now = told_visits(history).now
    return any(row.place == now and row.hold not in ("", "free") for row in history.rows)


def history_lines(history: History) -> list[str]:
    """What changed between this visit, the first and the last of the others, a line each.

    Pain at the same load; the heaviest load kept of each hold; trunk and free arms at the same
    load, where they clearly changed; the shoulder tests. Where the visits' free walks differ,
    the carries are told in degrees and the heaviest loads kept, which are shares of it, are not
    compared.
    """
    told = told_visits(history)
    moved = not set(history.moved).isdisjoint(told.places)
    ladders = ladder_lines(told, history.rows)
    lines = [
        *pain_lines(told),
        *([words_visits.SINCE["moved"]] if moved and ladders else ladders),
        *_carry_lines(history, told, moved=moved),
        *_test_lines(history, told),
    ]
    if not repeated(history):
        lines.insert(0, words_visits.HISTORY_NONE)
    return [_head(told), *lines] if told.others and lines else []


def _head(told: ToldVisits) -> str:
    """Which visits the lines speak of, with their dates."""
    names = [told.visits[place].name for place in told.others]
    between = len(told.visits) - len(told.places)
    words = words_visits.SINCE
    return words["head"].format(
        visits=words["and"].join(names),
        between=words["between"].format(n=between) if between else "",
    )


def _followed(history: History, told: ToldVisits) -> list[Places]:
    """The rows of each measure and condition that this visit has, by place; no free walks."""
    found: dict[tuple[object, ...], Places] = {}
    for row in history.rows:
        if row.hold != "free" and row.place in told.places:
            load = row.load_kg if math.isfinite(row.load_kg) else -1.0
            key = (row.measure, row.side, row.hold, row.loaded_side, load, row.implement)
            found.setdefault(key, {})[row.place] = row
    return [rows for rows in found.values() if told.now in rows and len(rows) > 1]


# --- carries --------------------------------------------------------------------------


def _carry_lines(history: History, told: ToldVisits, *, moved: bool) -> list[str]:
    """A sentence for the trunk and one for the free arms, of the carries that clearly differ."""
    kinds = ("deg", "arms_deg") if moved else ("kept", "arms_kept")
    found = [_same_carries(history, told, measure) for measure in MEASURES[moved]]
    lines = [
        words_visits.SINCE[kind].format(carries=_carries(carries, told))
        for kind, carries in zip(kinds, found, strict=True)
        if carries
    ]
    if any(not math.isfinite(rows[max(rows)].error) for carries in found for rows in carries):
        lines[-1] += words_visits.SINCE["unknown"]
    return lines


def _same_carries(history: History, told: ToldVisits, measure: str) -> list[Places]:
    """A measure of the carries that this visit and another have; none of an arm with a load."""
    followed = _followed(history, told)
    return [
        rows
        for rows in followed
        if rows[told.now].measure == measure and not _is_held(rows[told.now])
    ]


def _is_held(row: HistoryRow) -> bool:
    """Whether a row is of an arm that held the load."""
    return row.side in SIDES and row.loaded_side in (row.side, "both")


def _carries(carries: Sequence[Places], told: ToldVisits) -> str:
    """The carries that clearly differ, falls first; which are in doubt; how many do not differ."""
    words = words_visits.SINCE
    several = len({rows[told.now].implement for rows in carries}) > 1
    judged = [(rows, _kinds(rows, told)) for rows in carries]
    sure = [item for item in judged if not CLEAR.isdisjoint(item[1].values())]
    sure.sort(key=lambda item: "less" not in item[1].values())
    falls = sum("less" in kinds.values() for _, kinds in sure)
    said = [_carry(rows, kinds, told, implement=several) for rows, kinds in sure]
    parts = few_of(said, "more", most=max(MOST_NAMED, falls))
    rest = [item for item in judged if item not in sure]
    doubtful = [rows for rows, kinds in rest if "doubt" in kinds.values()]
    same = len(rest) - len(doubtful)
    if same and not sure:
        parts.append(words["one" if len(carries) == 1 else "none"])
    elif same:
        parts.append(words["other" if same == 1 else "others"].format(n=same))
    if doubtful:
        names = [_carry_name(rows[told.now], implement=several) for rows in doubtful]
        parts.append(words["doubt"].format(carries=", ".join(few_of(names, "more"))))
    return "; ".join(parts)


def _kinds(rows: Places, told: ToldVisits) -> dict[int, str]:
    """ "more", "less", "unclear" or "doubt" of the later visit, by the place of the other."""
    found = {}
    for other in sorted(rows.keys() - {told.now}):
        first, last = (rows[place] for place in sorted((other, told.now)))
        doubt = first.in_doubt or last.in_doubt
        found[other] = "doubt" if doubt else clear_change(first, last) or "unclear"
    return found


def _carry(rows: Places, kinds: Mapping[int, str], told: ToldVisits, *, implement: bool) -> str:
    """ "rack right 6 kg, 56 % at visit 1, 102 % now (more)", of the visits that clearly differ."""
    clear = {place: kind for place, kind in kinds.items() if kind in CLEAR}
    digits = 0 if rows[told.now].unit == "%" else 1
    values = {
        place: words_visits.SINCE["value"].format(
            value=written(rows[place].value, digits), unit=rows[place].unit
        )
        for place in (*clear, told.now)
    }
    return words_visits.SINCE["carry"].format(
        carry=_carry_name(rows[told.now], implement=implement),
        values=told.beside(values),
        change=told.changes(clear),
    )


def _carry_name(row: HistoryRow, *, implement: bool) -> str:
    """ "rack right 6 kg"."""
    hold = texts.HOLDS_SHORT.get(row.hold, row.hold)
    side = texts.LOADED_SIDES_SHORT.get(row.loaded_side, row.loaded_side)
    load = f"{kilograms(row.load_kg)} kg" if math.isfinite(row.load_kg) else ""
    arm = texts.SIDES.get(row.side, "") if row.loaded_side not in SIDES else ""
    arm = words_visits.SINCE["arm"].format(side=arm) if arm else ""
    parts = (hold, side, load, row.implement if implement else "", arm)
    return " ".join(part for part in parts if part)


# --- shoulder tests -------------------------------------------------------------------


def _test_lines(history: History, told: ToldVisits) -> list[str]:
    """A line each for tests that changed or cannot be told, one for all within the error."""
    words = words_visits.SINCE
    tests = [rows for rows in _followed(history, told) if not rows[told.now].hold]
    judged = [(rows, _findings(rows, told)) for rows in tests]
    within = [rows for rows, found in judged if set(found.values()) == {"within_error"}]
    others = [item for item in judged if item[0] not in within]
    others.sort(key=lambda item: not any("more_than" in code for code in item[1].values()))
    lines = few_of([_test(rows, found, told) for rows, found in others], "more_tests")
    if within:
        names = few_of([_test_name(rows[told.now]) for rows in within], "more")
        lines.append(words["tests_within"].format(tests=", ".join(names)))
    if any(rows[told.now].error_source.startswith(IF_DONE_ALIKE) for rows in tests):
        lines[-1] += words["tests_alike"]
    return lines


def _findings(rows: Places, told: ToldVisits) -> dict[int, str]:
    """The finding of this visit against each other one."""
    now = rows[told.now]
    return {
        place: change_finding(now.value - row.value, now.error)
        for place, row in sorted(rows.items())
        if place != told.now
    }


def _test_name(row: HistoryRow) -> str:
    return " ".join(part for part in (row.measure.replace("_", " "), row.side) if part)


def _test(rows: Places, findings: dict[int, str], told: ToldVisits) -> str:
    """ "External rotation right 82.0 deg now: rose by 12.0 deg since visit 1, beyond ..."."""
    words, now = words_visits.SINCE, rows[told.now]
    changes: dict[tuple[str, str], list[str]] = {}
    for place, finding in findings.items():
        kind, size = _change(rows, place, told)
        changes.setdefault((kind, finding), []).append(size)
    said = [
        words[kind].format(changes=words["and"].join(sizes))
        + words_visits.SINCE_FINDING[finding].format(error=written(now.error))
        for (kind, finding), sizes in changes.items()
    ]
    name = _test_name(now)
    return words["test"].format(
        name=f"{name[:1].upper()}{name[1:]}", value=written(now.value), changes="; ".join(said)
    )


def _change(rows: Places, place: int, told: ToldVisits) -> tuple[str, str]:
    """ "rose" and "by 12.0 deg since visit 1"."""
    words, later = words_visits.SINCE, place > told.now
    change = rows[told.now].value - rows[place].value
    change = -change if later else change
    kind = "rose" if change > 0 else "fell" if change < 0 else "unchanged"
    span = words["till" if later else "since"].format(visit=told.names[place])
    return kind, span if not change else words["by"].format(change=written(abs(change)), span=span)
