"""The sheet's own columns beside the results."""

from __future__ import annotations

import csv
import io
from dataclasses import replace

import numpy as np
import pytest
from scores_builder import build_scores

from imucarry.basics.records import SessionScores
from imucarry.tables.build import bout_summary, extra_columns, renamed_columns, strides
from imucarry.tables.schema import BOUT_SUMMARY, STRIDES
from imucarry.tables.text import csv_text


def with_extra(**extra: str) -> SessionScores:
    """Return an invented visit whose sheet has columns of its own."""
    scores = build_scores()
    bouts = [
        replace(bout, data=replace(bout.data, row=replace(bout.data.row, extra=extra)))
        for bout in scores.bouts
    ]
    return replace(scores, bouts=tuple(bouts))


@pytest.mark.parametrize("name", [column.name for column in BOUT_SUMMARY.columns])
def test_no_result_is_overwritten(name: str) -> None:
    plain, mine = bout_summary(with_extra()), bout_summary(with_extra(**{name: "mine"}))
    assert mine.pop(f"sheet_{name}") == ["mine"] * len(plain["bout"])
    assert str(mine) == str(plain)


def test_the_sheets_numbers_are_carried_as_given() -> None:
    scores = build_scores()
    row = replace(scores.bouts[1].data.row, order=1.5, load_kg=8.125, distance_m=20.125)
    bouts = list(scores.bouts)
    bouts[1] = replace(bouts[1], data=replace(bouts[1].data, row=row))
    written = csv_text(BOUT_SUMMARY, bout_summary(replace(scores, bouts=tuple(bouts))))
    second = list(csv.DictReader(io.StringIO(written)))[1]
    given = {name: second[name] for name in ("order", "load_kg", "distance_m")}
    assert given == {"order": "1.5", "load_kg": "8.125", "distance_m": "20.125"}


def test_every_name_comes_once_and_a_renamed_column_is_told() -> None:
    scores = with_extra(gym="a", sheet_session="b", session="c", speed_mps="d")
    assert extra_columns(scores) == [
        *("gym", "sheet_session", "sheet_sheet_session", "sheet_speed_mps"),
    ]
    summary = bout_summary(scores)
    assert [summary[name][0] for name in extra_columns(scores)] == ["a", "b", "c", "d"]
    told = renamed_columns(scores)
    assert [notice.where for notice in told] == ["column session", "column speed_mps"]
    assert "'sheet_speed_mps'" in told[1].message
    assert renamed_columns(with_extra()) == ()


def test_a_stride_tells_why_an_arm_was_left_out() -> None:
    scores = build_scores()
    bout = scores.bouts[0]
    cut = bout.data.strides
    flags = {word: np.zeros(cut.start_s.size, dtype=bool) for word in ("no_sensor", "gap")}
    flags["no_sensor"][[0, 9]] = flags["gap"][9] = True
    columns = {column.name: np.zeros(cut.start_s.size) for column in STRIDES.columns}
    data = replace(bout.data, strides=replace(cut, arm_drop=flags), columns=columns)
    told = strides(replace(scores, bouts=(replace(bout, data=data),)))["drop_reason"]
    assert (told[0], told[9]) == ("start;no_sensor", "gap;no_sensor")
    assert told[1:9] == [""] * 8


def test_strides_are_not_counted_without_a_chest_sensor() -> None:
    summary = bout_summary(build_scores(chest=False))
    assert set(summary["n_strides"]) == set(summary["n_kept_yaw"]) == {None}
    assert min(bout_summary(build_scores())["n_strides"]) > 0
