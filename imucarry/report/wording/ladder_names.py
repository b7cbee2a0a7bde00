"""What ladders and their loads are called, and in which order they are told."""

from __future__ import annotations

import math
from dataclasses import replace

from imucarry.basics.records import LadderRung, SessionScores, StoppedLoad
from imucarry.carry.implements import implement_key
from imucarry.report.wording import words_ladder as words
from imucarry.report.wording.free_arms import on_ladder
from imucarry.report.wording.holds import hold_named
from imucarry.report.wording.numbers import kilograms


def as_carried(scores: SessionScores) -> tuple[LadderRung, ...]:
    """The ladders of a visit in the order in which their holds and sides were first carried."""

    def first(rung: LadderRung) -> int:
        bouts = scores.bouts
        return next((k for k, bout in enumerate(bouts) if on_ladder(rung, bout)), len(bouts))

    return tuple(sorted(scores.ladder, key=first))


def for_words(scores: SessionScores, rung: LadderRung) -> LadderRung:
    """A ladder without its implement, where all ladders of the visit have the same."""
    several = len({implement_key(item.implement) for item in scores.ladder}) > 1
    return rung if several else replace(rung, implement="")


def ladder_hold(rung: LadderRung) -> str:
    """ "weight at the side, right, kettlebell"."""
    return ", ".join(filter(None, (hold_named(rung), rung.implement)))


def why_stopped(stopped: StoppedLoad) -> str:
    """ "stopped: grip, pain 6 of 10, noted: numb"."""
    parts = []
    has_pain = math.isfinite(stopped.pain_0_10)
    if stopped.stop_reason and not (has_pain and stopped.stop_reason.lower() == "pain"):
        parts.append(words.WHY_STOPPED["stop"].format(reason=stopped.stop_reason))
    if has_pain:
        parts.append(words.WHY_STOPPED["pain"].format(pain=kilograms(stopped.pain_0_10)))
    if stopped.alarms:
        parts.append(words.WHY_STOPPED["noted"].format(alarms=", ".join(stopped.alarms)))
    return ", ".join(parts)


def load_name(rung: LadderRung, load_kg: float) -> str:
    """ "16 kg", or "16 kg (pain 6 of 10)" where it does not count."""
    for item in rung.stopped:
        if item.load_kg == load_kg:
            return words.STOPPED_LOAD.format(load=kilograms(load_kg), why=why_stopped(item))
    return words.LOAD.format(load=kilograms(load_kg))
