"""Words of the shoulder tests and of earlier visits, beside those of the other ``words_``."""

from __future__ import annotations

from typing import Final

Words = dict[str, str]

HISTORY_COLUMN: Final[Words] = {
    "visit": "visit {session}",
    "dated": "visit {session}, {date}",
    "again": "{label} ({n})",
}
HISTORY_WHY: Final = (
    "How much a measure differs between visits by chance is not known (it takes the repeated "
    "visits of a study), so whether a change is more than that cannot be told. The interval under "
    "a value holds for its own day: two that lie apart say that the days differed, not whether "
    "training, another placement of the sensor or another pace is behind it."
)
HISTORY_APART: Final = "intervals lie apart"
HISTORY_NONE: Final = (
    "No carry of this visit was repeated at the same hold and load as at another visit."
)
HISTORY_LADDER: Final[Words] = {
    "caption": "Heaviest tested load at which the sternum kept the free walk's swing",
    "corner": "hold",
    "kept": "{heaviest} kg",
    "threshold": "at least {threshold} %",
    "no_tested_load": "none of those tested",
    "none": "no answer",
}
SINCE: Final[Words] = {
    "since": "Since {visit}: {changes}.",
    "unknown": " Error between visits not known.",
    "kept": "{hold} {low} to {high} % of the free walk",
    "test": "{name} {low} to {high} deg{finding}",
    "more": "{n} more below",
    "ladder": "{hold}, heaviest load kept: {low} at {visit}, {high} now",
}
SINCE_FINDING: Final[Words] = {
    "increased_more_than_error": " (beyond the error)",
    "decreased_more_than_error": " (beyond the error)",
    "within_error": " (within the error)",
}
