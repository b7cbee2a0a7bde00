"""Conditions of a study as the page names them."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, NamedTuple

import pandas as pd

from imucarry.carry.places import Condition
from imucarry.report.wording import texts
from imucarry.report.wording.holds import hold_named
from imucarry.report.wording.numbers import kilograms
from imucarry.report.wording.words_cohort import NO_IMPLEMENT

CONDITION = Condition._fields
HELD = ("hold", "loaded_side", "left_hold", "right_hold")


class Held(NamedTuple):
    """A hold; of any side where none is given."""

    hold: str
    left_hold: str
    right_hold: str
    loaded_side: str = ""


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
        parts = [hold_named(at)]
        if not (pd.isna(at.load_kg) or at.load_kg == 0):
            parts.append(f"{kilograms(at.load_kg)} kg")
        if tuple(getattr(at, name) for name in HELD) in self._several:
            parts.append(at.implement or NO_IMPLEMENT)
        parts.append(texts.PERTURBED.get(at.perturbed, at.perturbed))
        return ", ".join(part for part in parts if part)
