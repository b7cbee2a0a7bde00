"""Conditions of a study as the page names them; those of its reliability."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import pandas as pd

from imucarry.carry.cohort_reliability import Condition
from imucarry.report.wording import texts
from imucarry.report.wording.numbers import kilograms
from imucarry.report.wording.words_cohort import HANDS, NO_IMPLEMENT

CONDITION = Condition._fields
HELD = ("hold", "loaded_side", "left_hold", "right_hold")


class ConditionNames:
    """Names conditions in a few words: hold, side, load, elastic.

    The implement is named for a hold and side that were carried with several.

    Parameters
    ----------
    bouts : DataFrame
        All bouts of the study, with the columns of `CONDITION`.
    """

    def __init__(self, bouts: pd.DataFrame) -> None:
        loaded = bouts[bouts["hold"] != "free"]
        n_implements = loaded.groupby(list(HELD), observed=True)["implement"].nunique()
        self._several = set(n_implements.index[n_implements > 1])

    def __call__(self, key: Sequence[Any]) -> str:
        """Return the name of one condition, its values in the order of `CONDITION`."""
        at = Condition(*key)
        parts = [at.hold.replace("_", "-")]
        if at.left_hold or at.right_hold:
            named = {side: getattr(at, f"{side}_hold") for side in ("left", "right")}
            parts += [HANDS[side].format(hold=hold.replace("_", "-"))
                      for side, hold in named.items() if hold]  # fmt: skip
        elif at.loaded_side not in ("none", "both", ""):
            parts.append(at.loaded_side)
        if not (pd.isna(at.load_kg) or at.load_kg == 0):
            parts.append(f"{kilograms(at.load_kg)} kg")
        if tuple(getattr(at, name) for name in HELD) in self._several:
            parts.append(at.implement or NO_IMPLEMENT)
        parts.append(texts.PERTURBED.get(at.perturbed, at.perturbed))
        return ", ".join(part for part in parts if part)
