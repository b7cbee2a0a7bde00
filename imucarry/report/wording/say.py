"""Sentences: one function for each thing that is said, filled from `texts`."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Sequence

from imucarry.basics.evidence.carry import MINIMAL_PCT, REDUCED_PCT
from imucarry.basics.records import (
    BoutResult,
    BoutRow,
    Estimate,
    Notice,
    SessionScores,
    Side,
    Strides,
)
from imucarry.carry.bout_checks import FREE_ARM, PAIN, SAFETY, STOPPED
from imucarry.carry.kept import ACROSS, BASELINE_SMALL
from imucarry.measures.notices import no_walking
from imucarry.report.lookup import baseline_value, drop_words, estimate_of, role_of
from imucarry.report.wording import texts
from imucarry.report.wording.holds import hold_named, two_holds
from imucarry.report.wording.implements import NamedFor, implement_told
from imucarry.report.wording.numbers import kilograms, number, quantity
from imucarry.report.wording.say_kept import beside_kept

Limits = tuple[float, float]
USUAL_LIMITS: Limits = (REDUCED_PCT.value, MINIMAL_PCT.value)


def reason(code: str) -> str:
    """Why something is missing, in words; an unknown code is shown in plain letters."""
    return texts.REASONS.get(code, code.replace("_", " "))


def because(code: str) -> str:
    """The same as the end of a sentence, or nothing."""
    return texts.BECAUSE.format(reason=reason(code)) if code else ""


def bout_name(row: BoutRow) -> str:
    """A bout as it is called; one that is only numbered is called "bout 4"."""
    return texts.BOUT_NUMBERED.format(bout=row.bout) if row.bout.isdecimal() else row.bout


def bout_in_short(row: BoutRow) -> str:
    """ "bout 4, on elastic": a name alone would look like that of a plain carry."""
    parts = (bout_name(row), texts.PERTURBED.get(row.perturbed, row.perturbed))
    return ", ".join(part for part in parts if part)


def bout_label(row: BoutRow, named_for: NamedFor = frozenset()) -> str:
    """ "bout 4: weight at the side, right, 16 kg"."""
    return texts.BOUT_LABEL.format(bout=bout_name(row), hold=hold_and_load(row, named_for))


def hold_and_load(row: BoutRow, named_for: NamedFor = frozenset()) -> str:
    """ "weight at the side, right, 16 kg, on elastic"; each hand by itself where they differ.

    The implement of the holds and sides in `named_for` stands behind the load.
    """
    return _labelled(row, implement_told(row, named_for), short=False)


def hold_in_short(row: BoutRow, named_for: NamedFor = frozenset()) -> str:
    """ "side right 16 on elastic", for a narrow column whose heading names the unit."""
    return _labelled(row, implement_told(row, named_for), short=True)


def _labelled(row: BoutRow, implement: str, *, short: bool) -> str:
    holds = texts.HOLDS_SHORT if short else texts.HOLDS
    load = _load(math.nan if row.hold == "free" else row.load_kg, short=short)
    parts: tuple[str, ...]
    if two_holds(row):
        hands = _hands(row, short=short)
        parts = (hands, "" if _hand_loads_known(row) else load)
    elif (
        row.loaded_side == "both"
        and row.left_load_kg != row.right_load_kg
        and _hand_loads_known(row)
    ):
        parts = (holds.get(row.hold, row.hold), _hands(row, short=short))
    else:
        parts = (hold_named(row, short=short), load)
    parts = (*parts, implement, texts.PERTURBED.get(row.perturbed, row.perturbed))
    return (" " if short else ", ").join(part for part in parts if part)


def _hand_loads_known(row: BoutRow) -> bool:
    return math.isfinite(row.left_load_kg + row.right_load_kg)


def _load(load_kg: float, *, short: bool) -> str:
    if not math.isfinite(load_kg):
        return ""
    return kilograms(load_kg) if short else f"{kilograms(load_kg)}\u00a0kg"


def _hands(row: BoutRow, *, short: bool) -> str:
    """ "rack left 8 kg, side right 16 kg", or "16 kg left, 24 kg right" in one hold."""
    own = two_holds(row)
    hands: tuple[tuple[Side, str, float], ...] = (
        ("left", row.left_hold, row.left_load_kg),
        ("right", row.right_hold, row.right_load_kg),
    )
    said = []
    for side, hold, load_kg in hands:
        held = texts.HOLDS_SHORT.get(hold, hold) if own else ""
        words = (held, (texts.SIDE_LETTERS if short else texts.SIDES)[side])
        load = _load(load_kg, short=short)
        parts = (*words, load) if own or short else (load, *words)
        if not (own and hold == "free"):
            said.append(" ".join(part for part in parts if part))
    return (" " if short and not own else ", ").join(said)


def stopped(bout: BoutResult) -> str:
    """ "Stopped for pain (6 of 10).", "Pain 5 of 10."; "" where neither was."""
    said = (n.message for n in bout.notices if n.code in (STOPPED, PAIN))
    return " ".join(f"{sentence_case(words)}." for words in said)


def rotation(scores: SessionScores, bout: BoutResult, limits_pct: Limits = USUAL_LIMITS) -> str:
    """What the sternum did in a bout, in one sentence."""
    row = bout.data.row
    swung, kept = estimate_of(bout, "sternum_yaw_range"), estimate_of(bout, "yaw_kept")
    template = texts.ROTATION[_rotation_key(bout, swung, kept)]
    lines = () if free_without_verdict(bout) else limits_pct
    why = bout.comparison.finding_because or kept.missing_because
    if not math.isfinite(swung.value):
        why = swung.missing_because
    return template.format(
        value=number(swung.value),
        kept=percent_said(kept.value, lines),
        low=percent_said(kept.ci_low, lines),
        high=percent_said(kept.ci_high, lines),
        base=number(baseline_value(scores, bout, "sternum_yaw_range")),
        base_of=base_of(bout),
        no_other=texts.NO_OTHER["free" if row.hold == "free" else "carry"],
        because=because(why),
        line=number(limits_pct[0], 0),
        start=number(row.start_s, 0),
        end=number(row.end_s, 0),
    )


def base_of(bout: BoutResult) -> str:
    """What a bout is compared with: "the free walks'", or "the other free walk's"."""
    kind = "free" if bout.data.row.hold == "free" else "carry"
    return texts.BASE_OF[f"{kind}_many" if len(bout.comparison.baseline_bouts) > 1 else kind]


def _rotation_key(bout: BoutResult, swung: Estimate, kept: Estimate) -> str:
    finding = bout.comparison.rotation_finding
    if finding == "not_measured":
        return finding
    if no_walking(bout.data):
        return "no_walking"
    if not math.isfinite(swung.value):
        return "no_value"
    if finding == "no_baseline":
        return finding
    if not math.isfinite(kept.value):
        small = bout.comparison.finding_because == BASELINE_SMALL
        return "unclear_small" if small else "unclear_no_kept"
    across = finding == "unclear" and bout.comparison.finding_because == ACROSS
    if free_without_verdict(bout) and (across or finding != "unclear"):
        return "free_walk"
    return "unclear_line" if across else finding


def shown_as_free(bout: BoutResult, code: str) -> bool:
    """Whether the mark of a finding is left out, since it would say nothing of a free walk."""
    return free_without_verdict(bout) and code in ("rotates", "unclear", "no_baseline")


def free_without_verdict(bout: BoutResult) -> bool:
    """Whether a bout is a free walk that did not clearly turn less than the others.

    It is what carries are compared with, and no carry to be judged.
    """
    less = bout.comparison.rotation_finding in ("reduced", "minimal")
    return bout.data.row.hold == "free" and not less


def percent(value: float, limits_pct: Sequence[float]) -> str:
    """A share without decimals; one that rounds to a limit and is not at it: "<75" or ">75"."""
    shown = number(value, 0)
    for limit in limits_pct:
        if value != limit and shown == number(limit, 0):
            return f"{'<' if value < limit else '>'}{shown}"
    return shown


def percent_said(value: float, limits_pct: Sequence[float]) -> str:
    """The same in a sentence: "just under 75" in place of "<75"."""
    shown = percent(value, limits_pct)
    words = texts.AT_A_LINE.get(shown[:1])
    return words.format(line=shown[1:]) if words else shown


def certainty(bout: BoutResult, reduced_pct: float, minimal_pct: float) -> str:
    """How sure the finding is: strides counted, interval, where it lies."""
    counted = texts.CERTAINTY["counted"].format(**stride_counts(bout.data.strides))
    if bout.data.trunk is None or no_walking(bout.data):
        return ""
    kept = estimate_of(bout, "yaw_kept")
    if not math.isfinite(kept.ci_low):
        small = bout.comparison.finding_because == BASELINE_SMALL
        return f"{texts.CERTAINTY['not_compared' if small else 'no_interval']}; {counted}"
    limits = () if free_without_verdict(bout) else (reduced_pct, minimal_pct)
    words = texts.CERTAINTY["interval"].format(
        low=percent(kept.ci_low, limits), high=percent(kept.ci_high, limits)
    )
    if not limits:
        return f"{words}; {counted}"
    where = texts.CERTAINTY[where_it_lies(kept, reduced_pct, minimal_pct)]
    lines = where.format(reduced=number(reduced_pct, 0), minimal=number(minimal_pct, 0))
    return f"{words}, {lines}; {counted}"


def where_it_lies(kept: Estimate, reduced_pct: float, minimal_pct: float) -> str:
    """Where an interval lies against the lines, as a key of ``CERTAINTY``."""
    if kept.ci_low > reduced_pct:
        return "above"
    if kept.ci_high < minimal_pct:
        return "below_minimal"
    return "below" if kept.ci_high < reduced_pct else "across"


def stride_counts(strides: Strides) -> dict[str, int]:
    """How many strides there are, count, and were left out."""
    n_all, n_kept = strides.start_s.size, int(strides.kept_yaw.sum())
    return {"all": n_all, "kept": n_kept, "out": n_all - n_kept}


def left_out(strides: Strides) -> str:
    """Why strides were left out, with counts; "" when none was."""
    counts = Counter(
        word
        for index in range(strides.start_s.size)
        if not strides.kept_yaw[index]
        for word in drop_words(strides, index)
    )
    return ", ".join(
        f"{texts.DROP_REASONS.get(word, word)} ({count})" for word, count in counts.most_common()
    )


def aim_reading(bout: BoutResult, named_for: NamedFor = frozenset()) -> str:
    """What the finding means for the aim of the bout.

    "" where nobody walked, and for a bout with pain, an early stop or a symptom in its
    note, which is not read against its aim. A lighter load is named with the implement where
    there are several.
    """
    if no_walking(bout.data) or any(n.code in SAFETY for n in bout.notices):
        return ""
    reading = bout.aim_reading
    code, is_lighter = reading.code, math.isfinite(reading.lighter_kg)
    if is_lighter and f"{code}_lighter" in texts.AIM_READINGS:
        code = f"{code}_lighter"
    template = texts.AIM_READINGS.get(code, code.replace("_", " "))
    if is_lighter and "{lighter}" not in template:
        template += texts.AIM_LIGHTER
    if reading.code in texts.AIM_ARM and any(n.code == FREE_ARM for n in bout.notices):
        template = texts.AIM_ARM[reading.code]
    noted = beside_kept(
        reading.lighter_pain_0_10,
        reading.pain_limit_0_10,
        reading.lighter_stop,
        alarms=reading.lighter_alarms,
        limit_told=False,
    )
    implement = implement_told(bout.data.row, named_for)
    with_it = f" ({implement})" if implement else ""
    return template.format(lighter=kilograms(reading.lighter_kg), pain=with_it + noted)


def sentence_case(words: str) -> str:
    """Return words that begin with a capital."""
    return words[:1].upper() + words[1:]


def drop_list(strides: Strides, index: int) -> str:
    """Why one stride was left out, in words."""
    words = drop_words(strides, index)
    return ", ".join(texts.DROP_REASONS.get(word, word) for word in words)


def arm_role(bout: BoutResult, side: Side) -> str:
    """ "free arm", "held arm" or "arm"."""
    role = role_of(bout, side)
    return texts.LEGEND["held_arm"] if role == "held" else texts.LEGEND["free_arm"]


def interval(low: float, high: float, unit: str) -> str:
    """ "8.2 to 9.9"."""
    return texts.TABLE["interval"].format(low=quantity(low, unit), high=quantity(high, unit))


def note(code: str) -> str:
    """What qualifies a value, as a footnote."""
    return texts.NOTES.get(code, code.replace("_", " "))


def place(about: str, notice: Notice) -> str:
    """Where a notice belongs: a bout, a sensor, a file, a place in it."""
    named = ", ".join(texts.PLACEMENTS.get(part, part) for part in about.split(", "))
    parts = (texts.BOUT_NUMBERED.format(bout=about) if about.isdecimal() else named, notice.file)
    where = notice.where if notice.where not in (about, f"bout {about}") else ""
    where = ", ".join(texts.PLACEMENTS.get(part, part) for part in where.split(", "))
    return ", ".join(dict.fromkeys(part for part in (*parts, where) if part))
