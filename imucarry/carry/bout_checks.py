"""What a person should know of a bout before its swing: pain, an early stop, a still free arm."""

from __future__ import annotations

import math

from imucarry.basics.evidence import carry as evidence
from imucarry.basics.records import BoutRow, Comparison, Notice, Score
from imucarry.basics.settings import CarrySettings
from imucarry.carry.kept import rotation_finding

STOPPED = "stopped_early"
PAIN = "pain"
FREE_ARM = "free_arm_swung_less"
SWUNG = {"reduced": "swung less", "minimal": "hardly swung"}
"""What is said of a free arm whose share of its free swing lies below a threshold."""

TRUNK = {"rotates": " while the trunk kept turning", "not_measured": ""}
"""The findings of the trunk with which a still free arm is a check, and what is said of them."""


def bout_checks(
    row: BoutRow, comparison: Comparison, settings: CarrySettings
) -> tuple[Notice, ...]:
    """Tell of pain and early stops, and of a free arm that stopped while the trunk turned on.

    Parameters
    ----------
    row : BoutRow
    comparison : Comparison
        Of the same bout.
    settings : CarrySettings
        ``pain_limit_0_10``, ``reduced_pct`` and ``minimal_pct`` are used.

    Returns
    -------
    tuple of Notice
        All of them checks.
    """
    stopped = _stopped(row, settings)
    arms = () if row.hold == "free" else _arms(row, comparison, settings)
    return (*((stopped,) if stopped is not None else ()), *arms)


def early_stop(row: BoutRow) -> str:
    """Return why a bout ended early, in the sheet's own words; "" where it ended as planned."""
    reason = row.stop_reason.strip(" .")
    return "" if reason.lower() in evidence.PLANNED_STOPS.value else reason


def has_pain(row: BoutRow, settings: CarrySettings) -> bool:
    """Whether a bout had more pain than the limit."""
    return row.pain_0_10 > settings.pain_limit_0_10


def _stopped(row: BoutRow, settings: CarrySettings) -> Notice | None:
    """Return what is told of pain and an early stop, None without either."""
    reason = early_stop(row)
    pain = f"{row.pain_0_10:g} of 10" if math.isfinite(row.pain_0_10) else ""
    if reason.lower() == "pain":
        said = f"stopped for pain ({pain})" if pain else "stopped for pain"
    elif reason:
        said = f"stopped: {reason} (pain {pain})" if pain else f"stopped: {reason}"
    elif has_pain(row, settings):
        return Notice(PAIN, f"pain {pain}", where=row.bout, severity="check")
    else:
        return None
    return Notice(STOPPED, said, where=row.bout, severity="check")


def _arms(row: BoutRow, comparison: Comparison, settings: CarrySettings) -> tuple[Notice, ...]:
    """Return what is told of the free arms, nothing where the trunk itself turned less."""
    trunk = TRUNK.get(comparison.rotation_finding)
    if trunk is None:
        return ()
    free = (s for s in comparison.scores if (s.measure, s.role) == ("arm_swing_kept", "free"))
    return tuple(
        Notice(FREE_ARM, _of_arm(score, trunk, swung), where=row.bout, severity="check")
        for score in free
        if (swung := SWUNG.get(rotation_finding(score.estimate, settings)))
    )


def _of_arm(score: Score, trunk: str, swung: str) -> str:
    kept = score.estimate
    return (
        f"the free {score.side} arm {swung}{trunk}: {kept.value:.0f} % of its free swing "
        f"({kept.ci_low:.0f} to {kept.ci_high:.0f})"
    )
