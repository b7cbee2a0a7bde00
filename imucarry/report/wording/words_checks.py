"""Words of pain, early stops and notes, and of a visit in which nothing could be compared."""

from __future__ import annotations

from typing import Final

Words = dict[str, str]

SAFETY: Final[Words] = {
    "plain": "{said}: {load} ({bouts})",
    "reason": "{said}; {load} ({bouts})",
    "free": ". The carries are compared with it, and a guarded walk makes them look better",
}
SAFETY_POINTER: Final = 'See "Stop at once for" among the cautions.'
"""Stands once, after all that may be such an alarm."""

BESIDE: Final[Words] = {
    "pain": "pain {pain}",
    "stopped": "stopped",
    "note": "see note",
    "alarm": "{alarms} noted",
}
"""What stands beside the finding in a narrow place."""

PAIN_WITHIN: Final = "Pain {pain} of 10, within the set limit of {limit}."
NOTED: Final = "Noted: {note}"
PAIN_NOT_NOTED: Final[Words] = {
    "all": "Pain was not noted for any carry.",
    "one": "Pain was not noted for {bouts}.",
}
LEFT_OUT_OF_LADDER: Final = "Not in the load ladder, because the load hung on elastic: {bouts}."
NOT_COMPARED: Final[Words] = {
    "no_hold": "No hold was given, so nothing can be compared: write a sheet of the bouts, with "
    "`free` for the walks without a load.",
    "no_free_walk": "No free walk was recorded, so nothing can be compared. Record two or more.",
    "not_measured": "No carry could be compared with the free walks: neither trunk rotation nor a "
    "free arm was measured well enough in both.",
}
GAPS: Final[Words] = {
    "one": "{missing} s missing in {bout} ({start} to {end} s)",
    "more_gaps": "{missing} s missing in {bout} ({n} gaps)",
    "more": "and in {n} more bouts",
}
NO_CHEST_DATA: Final[Words] = {
    "short": "{missing} s without chest data",
    "when": " Chest data are missing from {start} to {end} s.",
    "when_more": " Chest data are missing for {missing} s ({n} gaps).",
}
ARM_IN_DOUBT: Final = "arm in doubt"
SIDE_IN_DOUBT: Final[Words] = {
    "one": " Bout {bouts} may belong to the other side: check its loaded side.",
    "more": " Bouts {bouts} may belong to the other side: check their loaded side.",
    "arms": "Loaded side in doubt: which arm was free is not known.",
    "mark": "loaded side in doubt",
    "short": "side in doubt",
}
