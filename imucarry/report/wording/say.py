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
    RetestFinding,
    SessionScores,
    Side,
    Strides,
)
from imucarry.measures.notices import no_walking
from imucarry.report.lookup import baseline_value, drop_words, estimate_of, role_of
from imucarry.report.wording import texts
from imucarry.report.wording.numbers import kilograms, number, quantity

Limits = tuple[float, float]
BEYOND_ERROR = ("increased_more_than_error", "decreased_more_than_error")
MOST_DIGITS = 6
USUAL_LIMITS: Limits = (REDUCED_PCT.value, MINIMAL_PCT.value)


def reason(code: str) -> str:
    """Why something is missing, in words; an unknown code is shown in plain letters."""
    return texts.REASONS.get(code, code.replace("_", " "))


def because(code: str) -> str:
    """The same as the end of a sentence, or nothing."""
    return texts.BECAUSE.format(reason=reason(code)) if code else ""


def bout_name(row: BoutRow) -> str:
    """A bout as it is called; one that is only numbered is called "bout 4"."""
    return texts.BOUT_NUMBERED.format(bout=row.bout) if row.bout.isdigit() else row.bout


def bout_label(row: BoutRow) -> str:
    """ "bout 4: weight at the side, right, 16 kg"."""
    return texts.BOUT_LABEL.format(bout=bout_name(row), hold=hold_and_load(row))


def hold_and_load(row: BoutRow) -> str:
    """ "weight at the side, right, 16 kg"."""
    carried = row.hold != "free" and math.isfinite(row.load_kg)
    parts = [
        texts.HOLDS.get(row.hold, row.hold),
        texts.LOADED_SIDES.get(row.loaded_side, row.loaded_side),
        f"{kilograms(row.load_kg)}\u00a0kg" if carried else "",
    ]
    return ", ".join(part for part in parts if part)


def hold_in_short(row: BoutRow) -> str:
    """ "side right 16", for a narrow column whose heading names the unit."""
    carried = row.hold != "free" and math.isfinite(row.load_kg)
    parts = (
        texts.HOLDS_SHORT.get(row.hold, row.hold),
        texts.LOADED_SIDES_SHORT.get(row.loaded_side, row.loaded_side),
        kilograms(row.load_kg) if carried else "",
    )
    return " ".join(part for part in parts if part)


def rotation(scores: SessionScores, bout: BoutResult, limits_pct: Limits = USUAL_LIMITS) -> str:
    """What the sternum did in a bout, in one sentence."""
    row = bout.data.row
    swung, kept = estimate_of(bout, "sternum_yaw_range"), estimate_of(bout, "yaw_kept")
    kind = "free" if row.hold == "free" else "carry"
    template = texts.ROTATION[_rotation_key(bout, swung, kept)]
    why = bout.comparison.finding_because or kept.missing_because
    if not math.isfinite(swung.value):
        why = swung.missing_because
    return template.format(
        value=number(swung.value),
        kept=percent(kept.value, limits_pct),
        low=percent(kept.ci_low, limits_pct),
        high=percent(kept.ci_high, limits_pct),
        base=number(baseline_value(scores, bout, "sternum_yaw_range")),
        base_of=texts.BASE_OF[kind],
        no_other=texts.NO_OTHER[kind],
        because=because(why),
        start=number(row.start_s, 0),
        end=number(row.end_s, 0),
    )


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
    return finding if math.isfinite(kept.value) else "unclear_no_kept"


def percent(value: float, limits_pct: Sequence[float]) -> str:
    """A whole percentage, with a decimal where a whole one would seem to lie on a line."""
    whole = number(value, 0)
    return number(value, 1) if whole in {number(limit, 0) for limit in limits_pct} else whole


def arm(bout: BoutResult, side: Side) -> str:
    """What one arm did in a bout; "" when the wrist had no sensor."""
    if side not in bout.data.swing:
        return ""
    swung = estimate_of(bout, "arm_swing", side)
    kept = estimate_of(bout, "arm_swing_kept", side)
    key = "missing" if not math.isfinite(swung.value) else "value"
    key = "kept" if key == "value" and math.isfinite(kept.value) else key
    return texts.ARM[key].format(
        role=texts.ARM_ROLE.get(role_of(bout, side), texts.ARM_ROLE["none"]),
        side=texts.SIDES[side],
        value=number(swung.value),
        kept=number(kept.value, 0),
        low=number(kept.ci_low, 0),
        high=number(kept.ci_high, 0),
        reason=reason(swung.missing_because),
    )


def arms(bout: BoutResult) -> str:
    """Both arms in one sentence; "" without wrist sensors and where nobody walked."""
    if bout.data.trunk is not None and no_walking(bout.data):
        return ""
    said = "; ".join(words for words in (arm(bout, "left"), arm(bout, "right")) if words)
    return f"{said[0].upper()}{said[1:]}." if said else ""


def certainty(bout: BoutResult, reduced_pct: float, minimal_pct: float) -> str:
    """How sure the finding is: strides counted, interval, where it lies."""
    counted = texts.CERTAINTY["counted"].format(**stride_counts(bout.data.strides))
    if bout.data.trunk is None or no_walking(bout.data):
        return ""
    kept = estimate_of(bout, "yaw_kept")
    if not math.isfinite(kept.ci_low):
        return f"{texts.CERTAINTY['no_interval']}; {counted}"
    limits = reduced_pct, minimal_pct
    words = texts.CERTAINTY["interval"].format(
        low=percent(kept.ci_low, limits), high=percent(kept.ci_high, limits)
    )
    where = texts.CERTAINTY[_where(kept, reduced_pct, minimal_pct)]
    lines = where.format(reduced=number(reduced_pct, 0), minimal=number(minimal_pct, 0))
    return f"{words}, {lines}; {counted}"


def _where(kept: Estimate, reduced_pct: float, minimal_pct: float) -> str:
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


def aim_reading(bout: BoutResult) -> str:
    """What the finding means for the aim of the bout; "" where nobody walked."""
    if no_walking(bout.data):
        return ""
    reading = bout.aim_reading
    template = texts.AIM_READINGS.get(reading.code, reading.code.replace("_", " "))
    if math.isfinite(reading.lighter_kg) and "{lighter}" not in template:
        template += texts.AIM_LIGHTER
    return template.format(lighter=kilograms(reading.lighter_kg))


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


def retest_finding(found: RetestFinding) -> str:
    """Whether a shoulder test changed by more than its own error, in a few words."""
    return texts.RETEST_WORDS.get(found.finding, found.finding.replace("_", " "))


def retest_name(found: RetestFinding) -> str:
    """ "Internal rotation, right"."""
    return sentence_case(", ".join(p for p in (found.test.replace("_", " "), found.side) if p))


def retest_digits(found: RetestFinding) -> int:
    """As many decimals as a change needs to be seen beyond the test's own error."""
    if found.finding not in BEYOND_ERROR:
        return 1
    change, error = abs(found.change_deg), found.error_deg
    enough = (n for n in range(1, MOST_DIGITS) if number(change, n) != number(error, n))
    return next(enough, MOST_DIGITS)


def retest(found: RetestFinding) -> str:
    """The same as a sentence, with what is known about the error."""
    template = texts.RETEST.get(found.finding, "{name}: " + retest_finding(found))
    digits = retest_digits(found)
    said = template.format(
        name=retest_name(found),
        change=number(abs(found.change_deg), digits),
        signed=number(found.change_deg, digits),
        error=number(found.error_deg, digits),
    )
    return f"{said} {sentence_case(found.explanation)}." if found.explanation else said


def interval(low: float, high: float, unit: str) -> str:
    """ "8.2 to 9.9"."""
    return texts.TABLE["interval"].format(low=quantity(low, unit), high=quantity(high, unit))


def note(code: str) -> str:
    """What qualifies a value, as a footnote."""
    return texts.NOTES.get(code, code.replace("_", " "))


def place(about: str, notice: Notice) -> str:
    """Where a notice belongs: a bout, a sensor, a file, a place in it."""
    named = texts.PLACEMENTS.get(about, about)
    parts = (texts.BOUT_NUMBERED.format(bout=about) if about.isdigit() else named, notice.file)
    where = notice.where if notice.where not in (about, f"bout {about}") else ""
    where = texts.PLACEMENTS.get(where, where)
    return ", ".join(dict.fromkeys(part for part in (*parts, where) if part))
