"""The picture of agreement: its names, its unit, its labels clear of the points."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ElementTree

import numpy as np
import pandas as pd
import pytest

from imucarry.carry.agreement import agree
from imucarry.report.agreement import named, picture

SVG = "{http://www.w3.org/2000/svg}"
YAW = "sternum_yaw_range_deg"


def drawn(measure: str, spread: float = 1.0, bias: float = 0.0) -> ElementTree.Element:
    rng = np.random.default_rng(4)
    truth = rng.normal(9.0, 2.0, 60)
    names = {"participant": [f"P{k}" for k in range(60)], "session": "1", "bout": "b"}
    one = pd.DataFrame({**names, measure: truth + bias + rng.normal(0.0, spread, 60)})
    other = pd.DataFrame({**names, measure: truth})
    return ElementTree.fromstring(picture(agree(one, other, measure)))


def texts(root: ElementTree.Element, css: str) -> list[ElementTree.Element]:
    return [text for text in root.iter(f"{SVG}text") if text.get("class") == css]


def test_the_axes_name_the_measure_and_its_unit() -> None:
    root = drawn(YAW)
    assert [text.text for text in texts(root, "axis-name")] == [
        "A minus B (deg)",
        "Trunk rotation (swung through), mean of A and B (deg)",
    ]


def test_a_measure_of_the_users_own_keeps_its_name() -> None:
    names = [text.text for text in texts(drawn("flow"), "axis-name")]
    assert names == ["A minus B", "flow, mean of A and B"]


def test_the_picture_has_a_title_that_names_it() -> None:
    root = drawn(YAW)
    (title,) = root.iter(f"{SVG}title")
    assert title.text == "Trunk rotation (swung through): A minus B against the mean of both"
    assert (root.get("role"), root.get("aria-labelledby")) == ("img", title.get("id"))
    assert root.get("aria-hidden") is None


@pytest.mark.parametrize("spread", [1.0, 0.001])
def test_no_label_lies_on_a_point_or_on_another(spread: float) -> None:
    root = drawn(YAW, spread, bias=3.0)
    labels = texts(root, "row-name")
    (dots,) = (path for path in root.iter(f"{SVG}path") if path.get("class") == "d-pair")
    rightmost = max(float(x) for x in re.findall(r"M(-?[0-9.]+)", dots.get("d", "")))
    width = float(root.get("viewBox", "").split()[2])
    assert len(labels) == 3
    for label in labels:
        left = float(label.get("x", "nan"))
        assert left > rightmost + 2.0
        assert left + 6.0 * len(label.text or "") <= width
    heights = sorted(float(label.get("y", "nan")) for label in labels)
    assert min(np.diff(heights)) >= 11.0


@pytest.mark.parametrize(
    ("measure", "said"),
    [
        ("sternum_yaw_range", ("Trunk rotation (swung through)", "deg")),
        ("left_arm_swing_deg", ("Arm swing, left", "deg")),
        ("right_arm_phase_deg", ("When the arm is farthest forward, right", "deg")),
        ("left_step_time_s", ("Step time, left", "s")),
        ("cadence_spm", ("Cadence", "steps/min")),
        ("yaw_kept_pct", ("Trunk rotation kept", "%")),
        ("yaw_kept_ci_low_pct", ("yaw_kept_ci_low_pct", "%")),
        ("stride_time_ms", ("stride_time_ms", "")),
        ("flow", ("flow", "")),
    ],
)
def test_columns_and_measures_are_named_for_people(measure: str, said: tuple[str, str]) -> None:
    assert named(measure) == said
