"""A small `CohortData` for tests of the cohort page: bouts and their scores."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

import pandas as pd

from imucarry.basics.settings import Settings
from imucarry.measures.table import MEASURES
from imucarry.report.cohort import CohortData, SessionLink

UNITS = {measure.id: measure.unit for measure in MEASURES}
BOUT = {
    "participant": "P1", "session": "1", "bout": "1", "hold": "suitcase", "loaded_side": "right",
    "load_kg": 16.0, "implement": "", "perturbed": "none", "left_hold": "", "right_hold": "",
    "rotation_finding": "rotates", "yaw_kept_pct": 90.0, "pain_0_10": 0.0, "stop_reason": "",
}  # fmt: skip
Values = Mapping[tuple[str, str], float]  # by measure and side


def cohort(
    bouts: Sequence[tuple[Mapping[str, Any], Values]], settings: Settings | None = None, **more: Any
) -> CohortData:
    """Return a study of bouts; each has what differs from `BOUT`, and its scores."""
    rows = [{**BOUT, **own} for own, _ in bouts]
    scores = [
        {"participant": row["participant"], "session": row["session"], "bout": row["bout"],
         "measure": measure, "side": side, "unit": UNITS[measure], "value": value}
        for row, (_, values) in zip(rows, bouts, strict=True)
        for (measure, side), value in values.items()
    ]  # fmt: skip
    who = dict.fromkeys((str(row["participant"]), str(row["session"])) for row in rows)
    names = ["participant", "session", "bout", "measure", "side", "unit", "value"]
    kept = {
        "failures": (),
        "sessions": tuple(SessionLink(*one, page="-".join(one), sensors=()) for one in who),
        "reliability": pd.DataFrame(),
        **more,
    }
    return CohortData(
        bouts=pd.DataFrame(rows, columns=list(BOUT)),
        scores=pd.DataFrame(scores, columns=names),
        settings=settings or Settings(),
        **kept,
    )
