"""The table of data quality."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from scores_builder import build_scores

from imucarry.basics.records import BodyFrame, SessionScores
from imucarry.report.quality import nearest_axis, quality_table


def rows_of(scores: SessionScores) -> dict[str, list[str]]:
    table = quality_table(scores)
    assert table is not None
    return {row.head: [cell.value for cell in row.cells] for row in table.rows}


def test_one_column_a_sensor_with_rate_gaps_clock_bias_and_noise(scores: SessionScores) -> None:
    rows = rows_of(scores)
    assert rows["rate (Hz)"] == ["25.0"] * 3
    assert rows["gaps bridged / left open"] == ["3 / 1"] * 3
    assert rows["longest gap (s)"] == ["0.40"] * 3
    assert rows["at the end of range (%)"] == ["0.02"] * 3
    assert rows["clock offset (s)"] == ["0.000", "0.350", "0.350"]
    # 0.002, -0.001, 0.003 rad/s in degrees a second.
    assert rows["turn-rate bias x, y, z (deg/s)"][0] == "0.11, -0.06, 0.17"
    assert rows["time at rest (s)"] == ["10.0"] * 3
    assert rows["levelled in"] == ["quiet standing", "", ""]


def test_noise_is_the_spread_while_still(scores: SessionScores) -> None:
    sensor = scores.sensors[0]
    (a, b), *_ = sensor.orientation.rest
    by_axis = np.degrees(sensor.recording.gyr_radps[a:b].std(axis=0))
    shown = float(rows_of(scores)["noise at rest, turn rate (deg/s)"][0])
    assert shown == pytest.approx(np.median(by_axis), abs=0.005)


def test_mounting_is_as_told_else_as_worked_out() -> None:
    scores = build_scores(wrists=("left",))
    assert rows_of(scores)["mounted"][0] == "up is +y, away from the body is +z"
    chest, wrist = (
        replace(s, recording=replace(s.recording, up="", out="")) for s in scores.sensors
    )
    # Body axes in sensor coordinates: forward is -x, left is +z, up is +y.
    turned = np.array([[-1.0, 0.0, 0.0], [0.0, 0.0, 1.0], [0.0, 1.0, 0.0]])
    chest = replace(chest, frame=BodyFrame(turned, "quiet_standing", "walking", 0.0))
    shown = rows_of(replace(scores, sensors=(chest, wrist)))["mounted"]
    assert shown == [
        "worked out: up is about +y, away from the body about -x",
        "worked out: up at rest is about +y",
    ]


@pytest.mark.parametrize(
    ("direction", "axis"), [((0.1, -0.9, 0.2), "-y"), ((1.0, 0.0, 0.0), "+x"), ((0, 0, -1), "-z")]
)
def test_nearest_axis(direction: tuple[float, float, float], axis: str) -> None:
    assert nearest_axis(np.array(direction, dtype=float)) == axis


def test_no_sensor_no_table(scores: SessionScores) -> None:
    assert quality_table(replace(scores, sensors=())) is None
