"""What is told beside a load that is named as kept: pain, early stops, symptoms in notes."""

from __future__ import annotations

from collections.abc import Sequence

from imucarry.carry.bout_checks import in_note
from imucarry.report.wording import words_ladder as words
from imucarry.report.wording.numbers import kilograms


def beside_kept(
    pain_0_10: float,
    limit_0_10: float,
    stops: str,
    noted: Sequence[str] = (),
    alarms: Sequence[str] = (),
    *,
    limit_told: bool = True,
) -> str:
    """Return what is set beside a load that is named as kept; "" where nothing was noted.

    Parameters
    ----------
    pain_0_10 : float
        The most pain noted with it, NaN where none was.
    limit_0_10 : float
        A bout with more pain does not count, so that another bout is the one that kept it.
    stops : str
        Why bouts with it ended early, "" where none did.
    noted : sequence of str, optional
        Words of pain in the notes of the bouts that kept it.
    alarms : sequence of str, optional
        Alarm symptoms noted of bouts with it, which do not count.
    limit_told : bool, optional
        Whether pain within the limit is told with the limit.
    """
    pain = kilograms(pain_0_10)
    within, above = [], []
    if stops and not (pain_0_10 > 0 and stops.lower() == "pain"):
        above.append(words.WHY_STOPPED["stop"].format(reason=stops))
    if pain_0_10 > limit_0_10 or (pain_0_10 > 0 and stops.lower() == "pain"):
        above.append(words.WHY_STOPPED["pain"].format(pain=pain))
    elif pain_0_10 > 0:
        key = "within" if limit_told else "within_short"
        within.append(words.KEPT_PAIN[key].format(pain=pain, limit=kilograms(limit_0_10)))
    if alarms:
        above.append(words.WHY_STOPPED["noted"].format(alarms=", ".join(alarms)))
    other = words.KEPT_PAIN["other"].format(said=", ".join(above)) if above else ""
    notes = in_note(noted) if noted else ""
    said = "; ".join(filter(None, [notes, *within, other]))
    # Its note speaks of pain that was not rated: the load counts on one condition.
    key = "if_within" if limit_0_10 > 0 else "if_none"
    is_open = noted and not within
    if_so = words.KEPT_PAIN[key].format(limit=kilograms(limit_0_10)) if is_open else ""
    return f"{if_so} ({said})" if said else ""
