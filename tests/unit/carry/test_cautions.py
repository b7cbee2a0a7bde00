"""The cautions: every one has its source, and what matters is among them."""

from __future__ import annotations

import pytest

from imucarry.carry.cautions import CAUTIONS, caution_groups

ALL = " ".join(item.text for item in CAUTIONS).lower()


@pytest.mark.parametrize(
    "said",
    [
        "not a medical device", "not a diagnosis", "licensed", "local codes", "dizziness",
        "chest symptoms", "aortic dissection", "180/110 mmhg", "rotator cuff repair", "week 12",
        "breath-holds", "grip that fails", "closed footwear", "within 6 months", "hernia",
        "not the pelvis", "alarm symptom noted is never counted as kept",
    ],
)  # fmt: skip
def test_what_matters_is_said(said: str) -> None:
    assert said in ALL


def test_every_caution_has_a_source_and_a_heading() -> None:
    assert all(item.text and item.source and item.heading for item in CAUTIONS)
    grouped = [item for _, items in caution_groups() for item in items]
    assert sorted(grouped, key=id) == sorted(CAUTIONS, key=id)
    headings = [heading for heading, _ in caution_groups()]
    assert len(headings) == len(set(headings))
