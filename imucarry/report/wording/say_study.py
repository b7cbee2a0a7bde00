"""Over weeks: why a study that was given does not say how much visits differ by chance."""

from __future__ import annotations

import math
from collections.abc import Sequence

from imucarry.carry.earlier import HistoryRow
from imucarry.carry.visits import NOT_IN_STUDY, TOO_FEW_IN_STUDY
from imucarry.report.wording import words_visits
from imucarry.report.wording.say import sentence_case
from imucarry.report.wording.visit_names import carry_name


def study_gaps(rows: Sequence[HistoryRow], *, implement: bool) -> list[str]:
    """A sentence for each reason why the study gives no error for some carries."""
    found: dict[str, dict[str, None]] = {}
    for row in rows:
        if not math.isfinite(row.error) and row.error_source.endswith(
            (NOT_IN_STUDY, TOO_FEW_IN_STUDY)
        ):
            name = carry_name(row.condition, row.load_kg, implement=implement)
            found.setdefault(row.error_source, {})[f"{name[:1].lower()}{name[1:]}"] = None
    every = len({row.error_source for row in rows if row.hold}) == 1
    return [
        words_visits.OVER_WEEKS[
            "study_none" if every and source == NOT_IN_STUDY else "study"
        ].format(carries=sentence_case(", ".join(names)), why=source)
        for source, names in found.items()
    ]
