"""How heavy a load is for the person, and how hard a bout felt."""

from __future__ import annotations

import math

from imucarry.basics.records import BoutResult, BoutRow
from imucarry.report.lookup import estimate_of
from imucarry.report.wording import words_dose
from imucarry.report.wording.numbers import kilograms, number


def dose(bout: BoutResult) -> str:
    """ "35 % of body mass, effort 8 of 10"; "" where neither is known."""
    return ", ".join(filter(None, (share_of_mass(bout), effort(bout.data.row))))


def share_of_mass(bout: BoutResult) -> str:
    """ "35 % of body mass"; "" without a load or a body mass."""
    share_pct = estimate_of(bout, "load_body_mass").value
    if not math.isfinite(share_pct):
        return ""
    return words_dose.SHARE_OF_MASS.format(share=number(share_pct, 0))


def effort(row: BoutRow) -> str:
    """ "effort 8 of 10"; "" where none was noted."""
    if not math.isfinite(row.rpe_0_10):
        return ""
    return words_dose.EFFORT.format(effort=kilograms(row.rpe_0_10))
