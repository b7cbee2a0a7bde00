"""Loads below the heaviest that kept rotation: those that count, and those that hurt or stopped."""

from __future__ import annotations

import math

from imucarry.basics.records import LadderRung, StoppedLoad
from imucarry.carry.symptoms import names_alarm, names_pain
from imucarry.report.wording import words_ladder as words
from imucarry.report.wording.numbers import kilograms
from imucarry.report.wording.say_kept import beside_kept


def lighter_stopped(rung: LadderRung) -> tuple[StoppedLoad, ...]:
    """The loads lighter than the one named as kept that do not count for pain or a stop."""
    return tuple(item for item in rung.stopped if item.load_kg < rung.heaviest_kept_kg)


def noted_with(rung: LadderRung, load_kg: float) -> str:
    """Return pain, early stops and symptoms noted of a load named as kept; "" without any."""
    pains = dict(zip(rung.loads_kg, rung.pains_0_10, strict=False))
    stops = dict(zip(rung.loads_kg, rung.stops, strict=False))
    noted = dict(zip(rung.loads_kg, rung.noted, strict=False))
    alarms = dict(zip(rung.loads_kg, rung.alarms, strict=False))
    return beside_kept(
        pains.get(load_kg, math.nan),
        rung.pain_limit_0_10,
        stops.get(load_kg, ""),
        noted.get(load_kg, ()),
        alarms.get(load_kg, ()),
    )


def has_gap(rung: LadderRung) -> bool:
    """Whether "up to" would hide a lighter load that hurt, was stopped or raised an alarm."""
    return bool(lighter_stopped(rung)) or any(
        noted_with(rung, load) for load in loads_kept(rung)[:-1]
    )


def loads_kept(rung: LadderRung) -> list[float]:
    """The loads up to the one named as kept that were measured and count, rising."""
    return [
        load
        for load, kept in zip(rung.loads_kg, rung.kept_pct, strict=True)
        if load <= rung.heaviest_kept_kg and math.isfinite(kept)
    ]


def loads_named(rung: LadderRung) -> str:
    """ "8 kg (in another bout stopped: numb hand), 16 and 24 kg"."""
    parts: list[str] = []
    plain: list[str] = []
    for load in loads_kept(rung):
        plain.append(kilograms(load))
        noted = noted_with(rung, load)
        if noted:
            parts.append(words.LOAD.format(load=anded(plain)) + noted)
            plain = []
    if plain:
        parts.append(words.LOAD.format(load=anded(plain)))
    return ", ".join(parts)


def loads_cell(rung: LadderRung) -> str:
    """ "at 16 and 24 kg, not 8 kg", for a table."""
    lighter = [kilograms(item.load_kg) for item in lighter_stopped(rung)]
    out = words.CELL["not"].format(loads=anded(lighter)) if lighter else ""
    return words.CELL["at"].format(loads=loads_named(rung)) + out


def alarm_or_pain(rung: LadderRung) -> bool:
    """Whether a load up to the one named as kept raised an alarm, or hurt beyond the limit."""
    found = list(lighter_stopped(rung))
    if any(item.alarms for item in found) or any(
           noted for said in (rung.noted, rung.alarms)
           for load, noted in zip(rung.loads_kg, said, strict=False)
           if load <= rung.heaviest_kept_kg):  # fmt: skip
        return True
    reasons = [item.stop_reason for item in found]
    pains = [item.pain_0_10 for item in found]
    for k, load in enumerate(rung.loads_kg):
        if load <= rung.heaviest_kept_kg:
            reasons += rung.stops[k : k + 1]
            pains += rung.pains_0_10[k : k + 1]
    stopped = any(names_alarm(reason) or names_pain(reason) for reason in reasons)
    return stopped or any(pain > rung.pain_limit_0_10 for pain in pains)


def symptom_with_kept(rung: LadderRung) -> bool:
    """Whether pain or an alarm is noted in words of a load that the answer calls kept."""
    counted = {load for load, low in zip(rung.loads_kg, rung.ci_low_pct, strict=False)
               if load <= rung.heaviest_kept_kg
               or (rung.answer == "one_load_only" and low > rung.threshold_pct)}  # fmt: skip
    return any(
        words and load in counted
        for said in (rung.noted, rung.alarms)
        for load, words in zip(rung.loads_kg, said, strict=False)
    )


def anded(parts: list[str]) -> str:
    """ "8, 16 and 24"."""
    if len(parts) < 2:
        return "".join(parts)
    return words.AND.format(first=", ".join(parts[:-1]), last=parts[-1])
