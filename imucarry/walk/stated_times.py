"""A stated rate or unit of time that makes people walk faster than they can."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from imucarry.basics.evidence import readers as evidence
from imucarry.basics.records import Notice, Recording


def check_stated_times(
    recordings: Sequence[Recording], cadence_spm: Mapping[str, float]
) -> tuple[Notice, ...]:
    """Tell where free walks are too quick for walking and the times were stated.

    Parameters
    ----------
    recordings : sequence of Recording
        The chest tells the cadence; without it the wrists do.
    cadence_spm : mapping of str to float [{steps}/min]
        Cadence of each free walk by its bout's name, NaN where there is none.

    Returns
    -------
    tuple of Notice
        One for each recording whose times are stated, all of them checks.
    """
    quick = {b: c for b, c in cadence_spm.items() if c > evidence.MOST_CADENCE_SPM.value}
    chest = [item for item in recordings if item.placement == "chest"]
    stated = [item for item in chest or recordings if item.times_are_stated]
    if not quick:
        return ()
    fastest = max(quick, key=quick.__getitem__)
    message = (
        f"bout {fastest} has {quick[fastest]:.0f} steps/min, more than people walk, and the "
        f"times of this file rest on what was stated ({{rule}}): check rate_hz or time_unit in "
        "session.toml; with a wrong one, degrees and seconds are wrong too"
    )
    return tuple(
        Notice(
            "too_quick_to_walk",
            message.format(rule=item.readings[0].time_rule),
            file=item.readings[0].file,
            severity="check",
        )
        for item in stated
    )
