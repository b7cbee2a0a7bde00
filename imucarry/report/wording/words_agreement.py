"""Words of the agreement of two tables."""

from __future__ import annotations

from typing import Final

AGREE: Final[dict[str, str]] = {
    "pairs": "{n} pairs, one a {level} ({only_a} only in A, {only_b} only in B); A minus B",
    "starts": "starts of strides     {later} s later in B (median; SD {spread} s)",
    "starts_apart": "The clocks of the two tables differ. Where they differ by about a stride, "
    "each stride is paired with its neighbour: put both on one clock first.",
    "shifted": "Each stride seems to be paired with its neighbour: the starts fit better with B "
    "{shift} s {way}. Put both tables on one clock first; until then nothing below holds.",
    "too_narrow": "Neighbouring strides are alike: the intervals are too narrow. Give columns pass "
    "and stride in either table.",
    "later": "later",
    "earlier": "earlier",
    "too_few": "Fewer than 3 pairs: nothing can be said about agreement.",
    "all_round": "The angles differ all around the circle: there are no bias and no limits.",
    "bias": "bias                  {value}",
    "limits": "95 % limits           {low} and {high}",
    "slope": "slope on the mean     {value}",
    "rmse": "root mean square      {value}",
    "icc": "ICC({form})              {value}",
    "icc_of": "ICC over {n} persons, of each one's mean.",
    "no_icc": "no ICC: {why}",
    "angles": "Differences are taken the short way round the circle. No slope and no ICC: they "
    "have no meaning for angles.",
    "difference": "A minus B{unit}",
    "mean": "{measure}, mean of A and B{unit}",
    "unit": " ({unit})",
    "title": "{measure}: A minus B against the mean of both",
    "bias_line": "bias",
    "lower_line": "lower limit",
    "upper_line": "upper limit",
}

COLUMNS: Final[dict[str, str]] = {
    "arm_phase": "When the arm is farthest forward",
    "sternum_on_arm": "Trunk rotation about the arm",
}
"""Columns of strides that have another name than their measure, without side and unit."""

LIMITS_FOR: Final[dict[str, str]] = {
    "one_person": "The limits hold for this one person, and all intervals as if pairs were "
    "independent.",
    "one_person_in_order": "The limits hold for this one person; all intervals allow for the "
    "likeness of neighbouring strides.",
    "persons": "The limits are those between {n} persons, one pair each.",
    "first_pairs": "Bias and limits are those between {n} persons, the first pair of each: too few "
    "pairs were repeated to allow for repeats. The rest takes every pair.",
    "repeats_within_persons": "Limits and slope allow for repeated pairs within {n} persons.",
}
"""Whom the limits speak of."""
