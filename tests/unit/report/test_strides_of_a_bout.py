"""Every stride of a bout: its table and its picture."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from imucarry.basics.records import SessionScores
from imucarry.report.figures.strip import strip_chart
from imucarry.report.pictures import stride_table
from imucarry.report.wording.numbers import NONE


def test_the_table_tells_when_each_stride_starts(scores: SessionScores) -> None:
    bout = scores.bouts[2]
    table = stride_table(bout)
    starts = [row.cells[table.heads.index("start (s)")].value for row in table.rows]
    assert starts == [f"{start:.3f}" for start in bout.data.strides.start_s]
    assert NONE not in starts


def test_a_stride_without_a_value_is_drawn_in_the_rows_of_reasons_alone(
    scores: SessionScores,
) -> None:
    bout = scores.bouts[2]
    out = np.flatnonzero(~bout.data.strides.kept_yaw)
    values = bout.data.columns["sternum_yaw_range_deg"].copy()
    values[out[1:]] = np.nan
    columns = {**bout.data.columns, "sternum_yaw_range_deg": values}
    chart = strip_chart(scores, replace(bout, data=replace(bout.data, columns=columns)))
    assert chart is not None
    above = [mark for mark in chart.panels[0].marks if mark.style == "left_out"]
    below = [mark for mark in chart.panels[1].marks if mark.style == "left_out"]
    assert [mark.x.tolist() for mark in above] == [[out[0] + 1.0]]
    assert {x for mark in below for x in mark.x} == set(out + 1.0)
