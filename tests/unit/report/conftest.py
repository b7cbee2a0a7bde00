"""The invented visit of `scores_builder`, scored and rendered once."""

from __future__ import annotations

import pytest
from scores_builder import build_scores

from imucarry.basics.records import SessionScores
from imucarry.basics.settings import Settings
from imucarry.report.page import render


@pytest.fixture(scope="session")
def scores() -> SessionScores:
    return build_scores()


@pytest.fixture(scope="session")
def page(scores: SessionScores) -> str:
    return render(scores, Settings())
