"""Conditions of a study as the page names them; those of its reliability."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import pandas as pd

from imucarry.carry.places import Condition
from imucarry.report.wording import texts
from imucarry.report.wording.numbers import kilograms
from imucarry.report.wording.words_cohort import NO_IMPLEMENT

CONDITION = Condition._fields
HELD = ("hold", "loaded_side", "left_hold", "right_hold")


def hold_name(hold: str, left_hold: str = "", right_hold: str = "") -> str:
    """ "weight at the side", or "rack left, side right" where the hands differ."""
    hands = {"left": left_hold, "right": right_hold}
    named = [
        f"{texts.HOLDS_SHORT.get(one, one)} {texts.SIDES[side]}"
        for side, one in hands.items()
        if one not in ("", "free")
    ]
    return ", ".join(named) or texts.HOLDS.get(hold, hold)


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
        parts = [hold_name(at.hold, at.left_hold, at.right_hold)]
        if not (at.left_hold or at.right_hold or at.loaded_side in ("none", "both", "")):
            parts.append(texts.LOADED_SIDES.get(at.loaded_side, at.loaded_side))
        if not (pd.isna(at.load_kg) or at.load_kg == 0):
            parts.append(f"{kilograms(at.load_kg)} kg")
        if tuple(getattr(at, name) for name in HELD) in self._several:
            parts.append(at.implement or NO_IMPLEMENT)
        parts.append(texts.PERTURBED.get(at.perturbed, at.perturbed))
        return ", ".join(part for part in parts if part)
