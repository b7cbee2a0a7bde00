"""What changed since earlier visits in short lines, for page and terminal."""

from __future__ import annotations

import math
from collections.abc import Sequence

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
Pairs = dict[int, list[tuple[HistoryRow, HistoryRow]]]

MEASURES = {False: ("yaw_kept", "arm_swing_kept"), True: ("sternum_yaw_range", "arm_swing")}
"""Trunk and arms as shares of the free walks, and in degrees where these differ."""


def repeated(history: History) -> bool:
    """Whether any loaded carry of this visit stands at another visit too."""
    now = told_visits(history).now
    return any(row.place == now and row.hold not in ("", "free") for row in history.rows)


def history_lines(history: History) -> list[str]:
    """What changed between this visit, the first and the last of the others, a line each.

    Pain at the same load; the heaviest load kept of each hold; trunk and free arms at the same
    load; the shoulder tests. Where the visits' free walks differ, the carries are told in degrees
    and the heaviest loads kept, which are shares of it, are not compared.
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
    """Trunk, then free arms at the same load, a sentence for each other visit that has any."""
    trunk, arms = (_pairs(history, told, measure) for measure in MEASURES[moved])
    lines = [
        *_spans(trunk, "deg" if moved else "kept", told, values=True),
        *_spans(arms, "arms_deg" if moved else "arms_kept", told, values=not trunk),
    ]
    later = (max(pair, key=lambda row: row.place)
             for found in (trunk, arms) for pairs in found.values() for pair in pairs)  # fmt: skip
    if any(not math.isfinite(row.error) for row in later):
        lines[-1] += words_visits.SINCE["unknown"]
    return lines


def _pairs(history: History, told: ToldVisits, measure: str) -> Pairs:
    """A measure of the same carries at another visit and now, by the place of the other."""
    pairs: Pairs = {}
    for rows in _followed(history, told):
        now = rows[told.now]
        for other in told.others:
            if other in rows and now.measure == measure and not _is_held(now):
                pairs.setdefault(other, []).append((rows[other], now))
    return dict(sorted(pairs.items()))


def _is_held(row: HistoryRow) -> bool:
    """Whether a row is of an arm that held the load."""
    return row.side in SIDES and row.loaded_side in (row.side, "both")


def _spans(pairs: Pairs, kind: str, told: ToldVisits, *, values: bool) -> list[str]:
    """A sentence for each other visit; where no carry clearly differs, the first has values."""
    return [
        words_visits.SINCE[kind].format(
            span=words_visits.SINCE["from" if other < told.now else "until"].format(
                visit=told.names[other]
            ),
            carries=_carries(found, values=values and k == 0),
        )
        for k, (other, found) in enumerate(pairs.items())
    ]


def _carries(pairs: Sequence[tuple[HistoryRow, HistoryRow]], *, values: bool) -> str:
    """The carries that clearly differ, falls first, and how many do not.

    Where none does, that is said, with the `values` of all of them where these are asked for.
    """
    words = words_visits.SINCE
    several = len({then.implement for then, _ in pairs}) > 1
    in_order = [sorted(pair, key=lambda row: row.place) for pair in pairs]
    said = [
        (_carry(first, last, implement=several), clear_change(first, last))
        for first, last in in_order
    ]
    sure = sorted((item for item in said if item[1]), key=lambda item: item[1] != "less")
    if not sure:
        all_said = ", ".join(few_of([carry for carry, _ in said], "more")) if values else ""
        key = "none" if not values else "none_one" if len(said) == 1 else "none_of"
        return words[key].format(carries=all_said)
    falls = sum(change == "less" for _, change in sure)
    named = [f"{carry}{words_visits.SINCE_CHANGE[change]}" for carry, change in sure]
    listed = ", ".join(few_of(named, "more", most=max(MOST_NAMED, falls)))
    others = len(said) - len(sure)
    if others:
        listed += words["other" if others == 1 else "others"].format(n=others)
    return listed


def _carry(first: HistoryRow, last: HistoryRow, *, implement: bool) -> str:
    """ "rack right 6 kg 99 to 108 %"."""
    hold = texts.HOLDS_SHORT.get(first.hold, first.hold)
    side = texts.LOADED_SIDES_SHORT.get(first.loaded_side, first.loaded_side)
    load = f"{kilograms(first.load_kg)} kg" if math.isfinite(first.load_kg) else ""
    digits = 0 if first.unit == "%" else 1
    arm = texts.SIDES.get(first.side, "") if first.loaded_side not in SIDES else ""
    arm = words_visits.SINCE["arm"].format(side=arm) if arm else ""
    parts = (hold, side, load, first.implement if implement else "", arm)
    return words_visits.SINCE["carry"].format(
        hold=" ".join(part for part in parts if part),
        low=written(first.value, digits),
        high=written(last.value, digits),
        unit=first.unit,
    )


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
    alike = any(rows[told.now].error_source.startswith(IF_DONE_ALIKE) for rows in tests)
    return [*lines, *([words["tests_alike"]] if alike else [])]


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
