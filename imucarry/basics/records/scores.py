"""What is said about it: scores, comparisons with the free walk, the whole result."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from imucarry.basics.records.motion import ClockFit, Orientation
from imucarry.basics.records.reading import Notice, Recording, Session
from imucarry.basics.records.walking import BodyFrame, BoutData


@dataclass(frozen=True, slots=True)
class Estimate:
    """A value with its 95 % interval, or the reason why there is none.

    ``missing_because`` is a reason code, empty when there is a value; ``notes`` are
    codes that qualify a value that is there (``measures.reasons`` explains both).
    """

    value: float = float("nan")
    ci_low: float = float("nan")
    ci_high: float = float("nan")
    n_used: int = 0
    missing_because: str = ""
    notes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Score:
    """One row of ``scores.csv``."""

    bout: str
    measure: str
    side: Literal["left", "right", "none"]
    role: Literal["free", "held", "none"]
    unit: str
    estimate: Estimate


@dataclass(frozen=True, slots=True)
class StoppedLoad:
    """A load that does not count: every bout with it had pain, an early stop or an alarm noted."""

    load_kg: float
    pain_0_10: float  # the most, NaN where it is within its limit
    stop_reason: str  # as in the sheet, worst first where there are several; "" where planned
    alarms: tuple[str, ...] = ()  # symptoms noted for which a carry is stopped at once


@dataclass(frozen=True, slots=True)
class LadderRung:
    """One row of ``ladder.csv``."""

    hold: str
    loaded_side: str
    implement: str
    threshold_pct: float
    heaviest_kept_kg: float
    next_kg: float
    answer: str
    loads_kg: tuple[float, ...] = ()  # every tested load, rising, with its mean kept %
    kept_pct: tuple[float, ...] = ()
    ci_low_pct: tuple[float, ...] = ()
    ci_high_pct: tuple[float, ...] = ()
    fit_pct: tuple[float, ...] = ()  # monotone fit and its band at the same loads
    fit_low_pct: tuple[float, ...] = ()
    fit_high_pct: tuple[float, ...] = ()
    notices: tuple[Notice, ...] = ()
    likely_kept_kg: float = float("nan")  # heaviest load whose fit, not lower limit, keeps it
    left_hold: str = ""  # of hold "mixed"
    right_hold: str = ""
    stopped: tuple[StoppedLoad, ...] = ()
    too_few_kg: tuple[float, ...] = ()  # loads with too few strides in every bout that counts
    not_compared_kg: tuple[float, ...] = ()  # loads measured, but the free walk turned too little
    repeats: tuple[tuple[float, float, float], ...] = ()  # load, kept % at first and at last
    pains_0_10: tuple[float, ...] = ()  # most pain noted at each load, NaN where none was noted
    pain_limit_0_10: float = 0.0  # a bout with more pain does not count
    stops: tuple[str, ...] = ()  # why bouts at each load ended early, "" where none did
    n_counted: tuple[int, ...] = ()  # bouts at each load that count
    unclear_alone: tuple[tuple[str, ...], ...] = ()  # which of them are not clear by themselves
    alarms: tuple[tuple[str, ...], ...] = ()  # alarm symptoms noted at each load; not counted
    noted: tuple[tuple[str, ...], ...] = ()  # words of pain in notes at each load that counts
    overstated_kg: tuple[float, ...] = ()  # loads carried at a pace that turns the trunk more


@dataclass(frozen=True, slots=True)
class RetestFinding:
    """One row of ``retest.csv``: one shoulder test and side, before and after.

    ``positioning_deg`` is the published error of a new positioning where ``error_deg`` is
    the smaller scatter of the client's own repeats; NaN else.
    """

    test: str
    side: str
    before_deg: float
    after_deg: float
    change_deg: float
    error_deg: float
    error_source: str
    finding: str
    explanation: str = ""
    positioning_deg: float = float("nan")


@dataclass(frozen=True, slots=True)
class Comparison:
    """One bout against the same person's free walk.

    ``scores`` holds ``yaw_kept`` and ``arm_swing_kept`` (in %), and whatever else
    is only defined against the baseline.
    """

    baseline_bouts: tuple[str, ...]
    scores: tuple[Score, ...]
    rotation_finding: str  # rotates, reduced, minimal, unclear, no_baseline, not_measured
    finding_because: str = ""  # a reason code such as "baseline_small", or ""
    notices: tuple[Notice, ...] = ()
    # Of log(yaw_kept): standard errors of the bout's and of the baseline's part.
    yaw_log_se_bout: float = float("nan")
    yaw_log_se_baseline: float = float("nan")
    yaw_log_df: float = float("nan")
    like_bouts: tuple[str, ...] = ()  # the free walks of like pace, () where none is known


@dataclass(frozen=True, slots=True)
class AimReading:
    """What a bout's finding means for its aim; ``report.wording`` puts it into a sentence."""

    code: str
    lighter_kg: float = float("nan")  # next lighter tested load that kept the rotation
    lighter_pain_0_10: float = float("nan")  # most pain noted with that load
    pain_limit_0_10: float = 0.0  # a bout with more pain does not count
    lighter_stop: str = ""  # why other bouts with that load ended early
    lighter_alarms: tuple[str, ...] = ()  # alarm symptoms noted of other bouts with that load


@dataclass(frozen=True, slots=True, eq=False)
class BoutResult:
    """One bout with its scores and its reading against the free walk."""

    data: BoutData
    scores: tuple[Score, ...]
    comparison: Comparison
    aim_reading: AimReading
    notices: tuple[Notice, ...] = ()


@dataclass(frozen=True, slots=True, eq=False)
class SensorResult:
    """What was found about one sensor: for the data-quality table."""

    recording: Recording
    orientation: Orientation
    clock: ClockFit
    frame: BodyFrame | None  # chest only


@dataclass(frozen=True, slots=True, eq=False)
class SessionScores:
    """Everything that one run found; tables and page are made from this alone."""

    session: Session
    sensors: tuple[SensorResult, ...]
    bouts: tuple[BoutResult, ...]
    ladder: tuple[LadderRung, ...]
    retest: tuple[RetestFinding, ...]
    notices: tuple[Notice, ...]
