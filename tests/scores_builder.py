"""A hand-made `SessionScores` for the tests of the page: invented values, known on purpose."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date

import numpy as np

from imucarry.basics.records import (
    DROP_REASONS,
    AimReading,
    ArmMotion,
    BodyFrame,
    BoutData,
    BoutResult,
    BoutRow,
    ClockFit,
    ColumnReading,
    Comparison,
    Contacts,
    Estimate,
    FileReading,
    FloatArray,
    LadderRung,
    Notice,
    Orientation,
    Pass,
    Recording,
    RetestFinding,
    RomReading,
    Score,
    SensorResult,
    Session,
    SessionScores,
    Side,
    Strides,
    StrideSwing,
    StrideYaw,
    TrunkMotion,
)

DEG = np.pi / 180.0
PERCENT = np.linspace(0.0, 1.0, 101)
STRIDE_S = 1.12
BOUT_S = 62.0


@dataclass(frozen=True)
class Invented:
    """What one bout of the invented visit looks like."""

    name: str
    hold: str = "free"
    loaded_side: str = "none"
    load_kg: float = 0.0
    aim: str = ""
    yaw_deg: float = 10.0
    left_deg: float = 26.0
    right_deg: float = 27.0
    finding: str = "rotates"
    because: str = ""
    reading: str = ""
    lighter_kg: float = float("nan")
    n_strides: int = 48
    n_bad: int = 0


VISIT = (
    Invented("free 1", yaw_deg=10.2),
    Invented("suitcase 8", "suitcase", "right", 8.0, "mobility", 9.1, 24.0, 7.0),
    Invented(
        "suitcase 16", "suitcase", "right", 16.0, "mobility", 7.0, 20.0, 5.0, "unclear", n_bad=6
    ),
    Invented(
        "suitcase 24", "suitcase", "right", 24.0, "mobility", 4.1, 12.0, 3.0, "reduced",
        lighter_kg=8.0,
    ),
    Invented("rack 6", "rack", "left", 6.0, "strength", 5.2, 2.5, 18.0, "reduced"),
    Invented("rack 10", "rack", "left", 10.0, "", 2.6, 2.0, 11.0, "minimal"),
    Invented("overhead", "overhead", "left", 4.0, "control", 6.0, 1.5, 20.0, "unclear",
             "too_few_strides", n_strides=7),
    Invented("free 2", yaw_deg=9.8),
)  # fmt: skip


def build_scores(
    *,
    visit: tuple[Invented, ...] = VISIT,
    text: str = "",
    rate_hz: float = 25.0,
    wrists: tuple[Side, ...] = ("left", "right"),
    chest: bool = True,
) -> SessionScores:
    """One invented visit; `text`, when given, is put into every field of free text."""
    bouts = tuple(
        _bout(spec, number, text, rate_hz, wrists, chest) for number, spec in enumerate(visit, 1)
    )
    placements = (*(("chest",) if chest else ()), *(f"{side}_wrist" for side in wrists))
    sensors = tuple(_sensor(place, text, rate_hz, len(visit)) for place in placements)
    return SessionScores(
        session=_session(text, sensors, bouts),
        sensors=sensors,
        bouts=bouts,
        ladder=_ladder(text),
        retest=_retest(text),
        notices=(
            Notice("clock_assumed", text or "the right wrist's clock was taken as it is",
                   "right_wrist.csv", "", "check"),
        ),
    )  # fmt: skip


def _session(
    text: str, sensors: tuple[SensorResult, ...], bouts: tuple[BoutResult, ...]
) -> Session:
    return Session(
        participant=text or "P07",
        session=text or "2",
        recordings=tuple(sensor.recording for sensor in sensors),
        date=date(2026, 3, 14),
        body_mass_kg=72.0,
        lane_m=20.0,
        bout_rows=tuple(bout.data.row for bout in bouts),
        rom=(
            RomReading(text or "internal rotation", "right", "before", 52.0),
            RomReading(text or "internal rotation", "right", "after", 61.0),
        ),
        input_sha256=((text or "chest.csv", "ab" * 32),),
    )


def _bout(
    spec: Invented, number: int, text: str, rate_hz: float, wrists: tuple[Side, ...], chest: bool
) -> BoutResult:
    rng = np.random.default_rng(number)
    start_s = 20.0 + 90.0 * (number - 1)
    strides = _strides(spec, start_s)
    yaw = _yaw(spec, rng) if chest else None
    swing = {side: _swing(spec, side, strides, rng) for side in wrists}
    data = BoutData(
        row=_row(spec, start_s, text),
        ordinal=number,
        trunk=_trunk(spec, start_s, rate_hz) if chest else None,
        arms={side: _arm(side, start_s, rate_hz) for side in wrists},
        passes=(Pass(1, start_s + 1, start_s + 29), Pass(2, start_s + 32, start_s + 60)),
        contacts=_contacts(strides),
        strides=strides,
        yaw=yaw,
        swing=swing,
        columns=_columns(strides, yaw, swing),
        notices=(Notice("sensor_swapped", text or "the wrist sensors look swapped", "", "",
                        "check"),) if spec.n_bad else (),
    )  # fmt: skip
    comparison = _comparison(spec, chest, wrists)
    return BoutResult(
        data=data,
        scores=_scores(spec, chest, wrists, data),
        comparison=comparison,
        aim_reading=AimReading(spec.reading, spec.lighter_kg),
    )


def _row(spec: Invented, start_s: float, text: str) -> BoutRow:
    return BoutRow(
        bout=text + spec.name if text else spec.name,
        start_s=start_s,
        end_s=start_s + BOUT_S,
        hold=spec.hold,
        loaded_side=spec.loaded_side,
        load_kg=spec.load_kg,
        aim=spec.aim,
        implement=text or ("kettlebell" if spec.load_kg else ""),
        stop_reason=text,
        note=text,
        distance_m=60.0,
        extra={text or "shoes": text or "flat"},
    )


def _strides(spec: Invented, start_s: float) -> Strides:
    n = spec.n_strides
    half = (n + 1) // 2
    number = np.arange(n)
    in_pass = np.where(number < half, number, number - half)
    start = start_s + 1.0 + number * STRIDE_S + (number >= half) * 3.0
    drop = {reason: np.zeros(n, dtype=bool) for reason in DROP_REASONS}
    drop["start"] = in_pass == 0
    drop["stop"] = (number == half - 1) | (number == n - 1)
    drop["gap"][5 : 5 + spec.n_bad] = True
    kept = ~np.logical_or.reduce(list(drop.values()))
    return Strides(
        start_s=start,
        right_contact_s=start + 0.5 * STRIDE_S,
        end_s=start + STRIDE_S,
        left_step_time_s=np.full(n, 0.5 * STRIDE_S),
        right_step_time_s=np.full(n, 0.5 * STRIDE_S),
        pass_number=np.where(number < half, 1, 2),
        stride_in_pass=in_pass + 1,
        turning=np.zeros(n, dtype=bool),
        drop=drop,
        kept_timing=kept,
        kept_yaw=kept,
        kept_left_arm=kept,
        kept_right_arm=kept,
    )


def _contacts(strides: Strides) -> Contacts:
    time = np.sort(np.concatenate([strides.start_s, strides.right_contact_s]))
    n = time.size
    return Contacts(time, np.arange(n) % 2 == 0, np.ones(n, dtype=np.int64), 3.0)


def _curves(
    range_deg: FloatArray, phase: float, rng: np.random.Generator, step: float = 0.15
) -> FloatArray:
    wave = np.cos(2 * np.pi * (PERCENT - phase)) + step * np.cos(4 * np.pi * PERCENT)
    jitter = rng.normal(0, 0.08, (range_deg.size, 1)) * np.sin(2 * np.pi * PERCENT)
    shape = wave / np.ptp(wave) + jitter
    return range_deg[:, None] * DEG * (shape - shape.mean(axis=1, keepdims=True))


def _yaw(spec: Invented, rng: np.random.Generator) -> StrideYaw:
    n = spec.n_strides
    range_deg = spec.yaw_deg * (1 + 0.14 * rng.standard_normal(n))
    curve = _curves(range_deg, 0.3, rng)
    nan = np.full(n, np.nan)
    return StrideYaw(
        range_rad=range_deg * DEG,
        locked_rad=0.9 * range_deg * DEG,
        phase_rad=np.full(n, 1.9),
        amplitude_rad=0.45 * range_deg * DEG,
        peak_rate_radps=4 * range_deg * DEG,
        floor_rad=np.full(n, 0.6 * DEG),
        lean_rad=0.02 * rng.standard_normal(n),
        lean_range_rad=nan,
        pitch_rad=0.02 * rng.standard_normal(n),
        curve_rad=curve,
    )


def _swing(spec: Invented, side: Side, strides: Strides, rng: np.random.Generator) -> StrideSwing:
    n = spec.n_strides
    mean = spec.left_deg if side == "left" else spec.right_deg
    range_deg = mean * (1 + 0.12 * rng.standard_normal(n))
    curve = _curves(range_deg, 0.5 if side == "left" else 0.0, rng)
    return StrideSwing(
        start_s=strides.start_s,
        end_s=strides.end_s,
        range_rad=range_deg * DEG,
        peak_forward_radps=3 * range_deg * DEG,
        peak_backward_radps=3 * range_deg * DEG,
        mean_angle_rad=np.full(n, 0.1),
        phase_rad=np.full(n, np.pi if side == "left" else 0.0),
        amplitude_rad=0.5 * range_deg * DEG,
        step_amplitude_rad=0.05 * range_deg * DEG,
        plane_source="own motion",
        direction_source="chest",
        angle_curve_rad=curve,
        vertical_curve_rad=0.3 * curve,
    )


def _columns(
    strides: Strides, yaw: StrideYaw | None, swing: dict[Side, StrideSwing]
) -> dict[str, FloatArray]:
    columns = {
        "start_s": strides.start_s,
        "end_s": strides.end_s,
        "stride_time_s": strides.end_s - strides.start_s,
        "left_step_time_s": strides.left_step_time_s,
        "right_step_time_s": strides.right_step_time_s,
    }
    if yaw is not None:
        columns["sternum_yaw_range_deg"] = yaw.range_rad / DEG
        columns["torso_lean_deg"] = yaw.lean_rad / DEG
    for side, arm in swing.items():
        columns[f"{side}_arm_swing_deg"] = arm.range_rad / DEG
    return columns


def _trunk(spec: Invented, start_s: float, rate_hz: float) -> TrunkMotion:
    n = int(BOUT_S * rate_hz)
    time = start_s + np.arange(n) / rate_hz
    step = 2 * np.pi * (time - start_s) / STRIDE_S
    yaw = 0.5 * spec.yaw_deg * DEG * np.cos(step)
    heading = np.where(time - start_s > 30.0, np.pi, 0.0)
    gyr = np.stack([0.1 * np.sin(step), 0.1 * np.cos(2 * step), np.gradient(yaw, time)], axis=1)
    acc = np.stack([np.sin(2 * step), np.sin(step), 2 * np.cos(2 * step)], axis=1)
    zeros = np.zeros(n)
    return TrunkMotion(
        time_s=time,
        rate_hz=rate_hz,
        acc_mps2=acc,
        gyr_radps=gyr,
        heading_rad=heading,
        yaw_rad=yaw + heading,
        lean_rad=zeros.copy(),
        pitch_rad=zeros.copy(),
        usable=np.ones(n, dtype=bool),
        clipped=np.zeros(n, dtype=bool),
        levelled_in="quiet_standing",
    )


def _arm(side: Side, start_s: float, rate_hz: float) -> ArmMotion:
    n = int(BOUT_S * rate_hz)
    time = start_s + np.arange(n) / rate_hz
    gyr = np.zeros((n, 3))
    gyr[:, 1] = np.sin(2 * np.pi * time / STRIDE_S)
    return ArmMotion(
        side=side,
        time_s=time,
        rate_hz=rate_hz,
        quat=np.tile([1.0, 0.0, 0.0, 0.0], (n, 1)),
        gyr_world_radps=gyr,
        acc_world_mps2=np.zeros((n, 3)),
        usable=np.ones(n, dtype=bool),
        clipped=np.zeros(n, dtype=bool),
    )


BASE_YAW_DEG = 10.0
BASE_ARM_DEG = {"left": 26.0, "right": 27.0}


def _role(spec: Invented, side: str) -> str:
    return "held" if spec.loaded_side in (side, "both") else "free"


def _comparison(spec: Invented, chest: bool, wrists: tuple[Side, ...]) -> Comparison:
    others = tuple(name for name in ("free 1", "free 2") if name != spec.name)
    kept = 100 * spec.yaw_deg / BASE_YAW_DEG
    few = spec.n_strides < 10
    scores = []
    if chest:
        estimate = (
            Estimate(missing_because="too_few_strides")
            if few
            else Estimate(kept, kept - 9, kept + 9, spec.n_strides - 4)
        )
        scores.append(Score(spec.name, "yaw_kept", "none", "none", "%", estimate))
    for side in wrists:
        swing = spec.left_deg if side == "left" else spec.right_deg
        arm = 100 * swing / BASE_ARM_DEG[side]
        scores.append(
            Score(spec.name, "arm_swing_kept", side, _role(spec, side), "%",
                  Estimate(arm, arm - 11, arm + 11, spec.n_strides - 4))
        )  # fmt: skip
    return Comparison(
        baseline_bouts=others,
        scores=tuple(scores),
        rotation_finding=spec.finding if chest else "not_measured",
        finding_because=spec.because,
    )


def _scores(
    spec: Invented, chest: bool, wrists: tuple[Side, ...], data: BoutData
) -> tuple[Score, ...]:
    n = int(data.strides.kept_yaw.sum())
    few = n < 10

    def row(measure: str, value: float, unit: str, half: float, side: str = "none") -> Score:
        role = _role(spec, side) if side != "none" else "none"
        estimate = Estimate(value, value - half, value + half, n)
        return Score(spec.name, measure, side, role, unit, estimate)  # type: ignore[arg-type]

    def gone(measure: str, unit: str, reason: str, side: str = "none") -> Score:
        role = _role(spec, side) if side != "none" else "none"
        return Score(spec.name, measure, side, role, unit,  # type: ignore[arg-type]
                     Estimate(missing_because=reason))  # fmt: skip

    rows = []
    if chest:
        rows += [
            row("cadence", 107.1, "{steps}/min", 1.2),
            row("stride_time", STRIDE_S, "s", 0.01),
            row("step_time", 0.55, "s", 0.01, "left"),
            row("step_time", 0.57, "s", 0.01, "right"),
            row("sternum_yaw_range", spec.yaw_deg, "deg", 0.4),
            row("sternum_yaw_locked", 0.9 * spec.yaw_deg, "deg", 0.4),
            row("sternum_yaw_phase", 108.0, "deg", 6.0),
            row("sternum_peak_yaw_rate", 30.0, "deg/s", 2.0),
            row("torso_lean", 1.2, "deg", 0.3),
            row("torso_pitch", 2.0, "deg", 0.3),
            row("stride_time_cv", 1.9, "%", 0.4),
            row("sternum_yaw_sd", 1.4, "deg", 0.3),
            row("step_time_asymmetry", 3.6, "%", 1.1),
            gone("phase_coordination_index", "%", "too_few_strides")
            if few
            else row("phase_coordination_index", 3.1, "%", 0.5),
            row("stride_regularity", 0.91, "1", 0.02),
            row("step_regularity", 0.86, "1", 0.02),
        ]
    for side in wrists:
        swing = spec.left_deg if side == "left" else spec.right_deg
        rows.append(row("arm_swing", swing, "deg", 1.2, side))
        rows.append(row("arm_swing_sd", 2.1, "deg", 0.4, side))
        rows.append(row("arm_peak_rate", 90.0, "deg/s", 5.0, side))
        if _role(spec, side) == "free" and chest:
            rows.append(row("arm_sternum_phase", 12.0, "deg", 8.0, side))
        else:
            rows.append(gone("arm_sternum_phase", "deg", "held_arm", side))
    if len(wrists) == 2 and spec.hold == "free":
        rows.append(row("arm_swing_asymmetry", 4.0, "%", 3.0))
    else:
        rows.append(gone("arm_swing_asymmetry", "%", "held_arm" if wrists else "no_wrist_sensor"))
    return tuple(rows)


def _sensor(placement: str, text: str, rate_hz: float, n_bouts: int) -> SensorResult:
    n = int((40.0 + 90.0 * n_bouts) * rate_hz)
    time = np.arange(n) / rate_hz
    wave = np.sin(2 * np.pi * time / STRIDE_S)
    gyr = np.stack([0.2 * wave, 0.1 * wave, 0.3 * wave], axis=1)
    acc = np.stack([wave, 9.8 + wave, 0.5 * wave], axis=1)
    reading = FileReading(
        file=text or f"{placement}.csv",
        sha256="ab" * 32,
        layout=text or "UTF-8, comma, decimal point, header in row 1",
        columns=(ColumnReading(text or "ax", "acc_x", "g", text or "the name says so"),),
        time_rule=text or "column t in seconds",
        rate_hz=rate_hz,
        jitter_ms=0.8,
        n_rows=n,
        duration_s=n / rate_hz,
        n_gaps_bridged=3,
        n_gaps=1,
        longest_gap_s=0.4,
        clipped_frac=0.0002,
        rest_acc_mps2=(0.0, 9.81, 0.0),
        notices=(Notice("unit_guessed", text or "no unit named: g fits gravity"),),
    )
    recording = Recording(
        placement=placement,
        rate_hz=rate_hz,
        time_s=time,
        acc_mps2=acc,
        gyr_radps=gyr,
        up="+y",
        out="+z",
        readings=(reading,),
    )
    orientation = Orientation(
        quat=np.tile([1.0, 0.0, 0.0, 0.0], (n, 1)),
        bias_radps=np.array([0.002, -0.001, 0.003]),
        bias_sd_radps=0.0001,
        rest=((0, int(10 * rate_hz)),),
    )
    source = "reference" if placement == "chest" else "shared_motion"
    clock = ClockFit(placement, 0.0 if placement == "chest" else 0.35, 4.0, 0.01, source)
    frame = BodyFrame(np.eye(3), "quiet_standing", "walking", 0.2) if placement == "chest" else None
    return SensorResult(recording, orientation, clock, frame)


def _ladder(text: str) -> tuple[LadderRung, ...]:
    return (
        LadderRung("suitcase", "right", text or "kettlebell", 75.0, 8.0, 16.0, "kept_up_to",
                   (8.0, 16.0, 24.0), (91.0, 70.0, 41.0), (82.0, 61.0, 32.0),
                   (100.0, 79.0, 50.0), (91.0, 70.0, 41.0), (83.0, 62.0, 33.0),
                   (99.0, 78.0, 49.0)),
        LadderRung("rack", "left", text or "kettlebell", 75.0, float("nan"), float("nan"),
                   "no_tested_load", (6.0, 10.0), (52.0, 26.0), (43.0, 17.0), (61.0, 35.0),
                   (52.0, 26.0), (44.0, 18.0), (60.0, 34.0)),
    )  # fmt: skip


def _retest(text: str) -> tuple[RetestFinding, ...]:
    return (
        RetestFinding(text or "internal rotation", "right", 52.0, 61.0, 9.0, 6.0,
                      text or "given with --mdc", "increased_more_than_error", text),
        RetestFinding(text or "flexion", "left", 160.0, 163.0, 3.0, 8.0,
                      text or "published row", "within_error", text),
        RetestFinding(text or "horizontal adduction", "left", 20.0, 24.0, 4.0, float("nan"),
                      "", "not_decidable", text),
    )  # fmt: skip


def with_participant(scores: SessionScores, participant: str) -> SessionScores:
    """The same visit of someone else."""
    return replace(scores, session=replace(scores.session, participant=participant))
