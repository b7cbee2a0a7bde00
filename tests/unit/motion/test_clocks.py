"""Clocks of sensors that feel the same walk, each from its own place and mounting."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from motion_builder import recording_of, turned
from scipy import stats

from imucarry.basics.records import ClockFit, FloatArray, Orientation, Recording
from imucarry.basics.settings import MotionSettings
from imucarry.motion import rotations
from imucarry.motion.clocks import align_clocks, on_session_clock
from imucarry.motion.clocks.lags import normal_from_t
from imucarry.motion.orientation import estimate_orientation
from imucarry.simulate.demo import demo_spec
from imucarry.simulate.session import simulate_session

UP, ACROSS = np.array([0.0, 0, 1]), np.array([0.0, 1, 0])
RATE_HZ = 50.0
MOUNTINGS = {
    "chest": rotations.from_rotation_vector(np.array([0.0, 0.4, 0.0])),
    "left_wrist": rotations.from_rotation_vector(np.array([1.5, 0.2, -0.8])),
    "right_wrist": rotations.from_rotation_vector(np.array([-0.7, 2.0, 0.1])),
}


def contacts_of(
    rng: np.random.Generator, length_s: float, *, even: bool, scatter_s: float
) -> FloatArray:
    """Contact times: walks of about 14 s with 6 s of standing between; or no end of even steps."""
    if even:
        return np.arange(0, length_s, 0.55)
    starts = np.arange(6, length_s - 14, 20) + rng.uniform(
        0, 2, size=len(np.arange(6, length_s - 14, 20))
    )
    walks = [start + np.cumsum(0.55 + scatter_s * rng.normal(size=25)) for start in starts]
    return np.concatenate(walks)


def sensor(
    placement: str,
    *,
    length_s: float = 200,
    seed: int = 1,
    offset_s: float = 0.0,
    drift_ppm: float = 0.0,
    even: bool = False,
    rate_hz: float = RATE_HZ,
    scatter_s: float = 0.015,
    turns: bool = True,
    twist_deg: float = 0.0,
    twist_late_s: float = 0.0,
    one_sided: float = 0.0,
) -> Recording:
    """Return what one sensor records of a walk that `seed` makes; its clock shows more.

    The trunk bounces and sways; each contact sends a jolt of 7 Hz up to every sensor;
    every walk ends with a half turn, unless `turns` is false. The wrists swing at the
    stride rate as well, and turn by `twist_deg` about the vertical, `twist_late_s` after
    the trunk, which turns by 4 degrees. Jolts of the left foot are stronger by `one_sided`.
    """
    rng = np.random.default_rng(seed)
    contact_s = contacts_of(rng, length_s, even=even, scatter_s=scatter_s)
    own = np.random.default_rng([seed, len(placement)])
    time_s = np.arange(round(length_s * rate_hz)) / rate_hz / (1 + 1e-6 * drift_ppm)
    since = time_s[:, None] - contact_s
    near = (since > 0) & (since < 0.6)
    since = np.where(near, since, 0.0)
    foot = np.where(np.arange(contact_s.size) % 2 == 0, 1.0, -1.0)
    heights = 1 + 0.2 * rng.normal(size=contact_s.size) + one_sided * foot
    jolt = np.where(near, heights * np.exp(-since / 0.08) * np.sin(2 * np.pi * 7 * since), 0)
    bump = np.where(near, np.sin(np.pi * since / 0.55), 0)
    acc = np.zeros((time_s.size, 3))
    arm = 0.0 if placement == "chest" else 1.0
    acc[:, 2] = (3 - arm) * jolt.sum(axis=1) + 1.5 * np.cos(2 * np.pi * bump.sum(axis=1))
    acc += 0.1 * own.normal(size=acc.shape)
    turn = np.zeros(time_s.size)
    if turns and not even:
        for end_s in contact_s[24::25]:
            turn += np.pi * 0.5 * (1 - np.cos(np.pi * np.clip((time_s - end_s + 2) / 2, 0, 1)))
    stride = (foot * bump).sum(axis=1)
    swing = np.deg2rad(24) * arm * stride
    twist = np.deg2rad(4) * stride
    if arm:
        twist = np.deg2rad(twist_deg) * np.roll(stride, round(twist_late_s * rate_hz))
    quat = rotations.multiply(
        turned(UP, turn + twist),
        rotations.multiply(turned(ACROSS, swing), MOUNTINGS[placement]),
    )
    recording = recording_of(quat, rate_hz, placement=placement, acc_world_mps2=acc)
    return replace(recording, time_s=recording.time_s + offset_s)


def align(*recordings: Recording, **settings: float) -> tuple[ClockFit, ...]:
    chosen = replace(MotionSettings(), **settings)
    return align_clocks(recordings, orientations_of(recordings), chosen)


def orientations_of(recordings: tuple[Recording, ...]) -> list[Orientation]:
    return [estimate_orientation(recording, MotionSettings()) for recording in recordings]


def worst_error_s(recording: Recording, fit: ClockFit, offset_s: float, drift_ppm: float) -> float:
    """Largest error of the session times that a fit gives, over the recording."""
    true_s = (recording.time_s - offset_s) / (1 + 1e-6 * drift_ppm)
    return float(np.abs(on_session_clock(recording, fit).time_s - true_s).max())


@pytest.mark.parametrize(
    ("offset_s", "drift_ppm"), [(30.0, 100.0), (-30.0, -100.0), (0.55, 20.0), (-0.06, 0.0)]
)
@pytest.mark.parametrize("seed", [1, 2])
def test_offset_and_drift_are_found_to_20_ms(offset_s: float, drift_ppm: float, seed: int) -> None:
    chest = sensor("chest", seed=seed)
    wrist = sensor("left_wrist", seed=seed, offset_s=offset_s, drift_ppm=drift_ppm)
    reference, fit = align(chest, wrist)
    assert reference == ClockFit("chest", 0.0, 0.0, 0.0, "reference")
    assert fit.source == "shared_motion"
    assert worst_error_s(wrist, fit, offset_s, drift_ppm) < min(0.02, 3 * fit.sd_s)
    assert [notice.code for notice in fit.notices] == ["clock_moved"]


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_clocks_that_agree_are_left_as_they_are(seed: int) -> None:
    fits = align(*(sensor(placement, seed=seed) for placement in MOUNTINGS))
    for fit in fits[1:]:
        assert (fit.source, fit.offset_s, fit.drift_ppm) == ("shared_motion", 0.0, 0.0)
        assert 0 < fit.sd_s <= 0.02
        assert fit.notices == ()


def test_steps_like_clockwork_without_turns_are_ambiguous() -> None:
    chest = sensor("chest", even=True)
    wrist = sensor("left_wrist", even=True, offset_s=7.3)
    fit = align(chest, wrist)[1]
    assert (fit.source, fit.offset_s, fit.drift_ppm) == ("assumed", 0.0, 0.0)
    assert np.isnan(fit.sd_s)
    assert [(notice.code, notice.severity) for notice in fit.notices] == [
        ("clock_ambiguous", "check")
    ]
    for suffers in ("phases of the left arm", "swing may be off"):
        assert suffers in fit.notices[0].message


@pytest.mark.parametrize("offset_s", [0.0, 0.55, 3.3, -7.3])
@pytest.mark.parametrize("late_s", [0.3, 0.55, 0.8])
def test_without_turns_the_arms_own_twist_moves_no_clock(late_s: float, offset_s: float) -> None:
    chest = sensor("chest", turns=False)
    twisting = {"twist_deg": 8.0, "twist_late_s": late_s}
    wrist = sensor("right_wrist", turns=False, offset_s=offset_s, **twisting)
    fit = align(chest, wrist)[1]
    assert fit.source == "shared_motion"
    assert worst_error_s(wrist, fit, offset_s, 0.0) < 0.02


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_jolts_of_one_foot_felt_more_by_one_sensor_move_no_clock(seed: int) -> None:
    chest = sensor("chest", seed=seed, turns=False, scatter_s=0.006, one_sided=0.9)
    wrist = sensor("right_wrist", seed=seed, turns=False, scatter_s=0.006, one_sided=-0.9)
    assert align(chest, wrist)[1].offset_s == 0.0


@pytest.mark.parametrize("seed", [11, 12, 13])
def test_sensors_of_different_walks_are_not_joined(seed: int) -> None:
    fit = align(sensor("chest", seed=1), sensor("left_wrist", seed=seed, offset_s=40))[1]
    assert fit.source == "assumed"


def with_a_long_rest_between(placement: str, offset_s: float) -> Recording:
    """Two walks with 25 minutes of lying still between them."""
    first, second = (sensor(placement, seed=seed, rate_hz=25.0) for seed in (1, 2))
    still = np.random.default_rng(len(placement)).normal(size=(25 * 1500, 3))
    acc = [first.acc_mps2, first.acc_mps2[5] + 0.02 * still, second.acc_mps2]
    gyr = [first.gyr_radps, 0.002 * still[::-1], second.gyr_radps]
    n_samples = sum(part.shape[0] for part in acc)
    return replace(
        first,
        time_s=offset_s + np.arange(n_samples) / 25.0,
        acc_mps2=np.concatenate(acc),
        gyr_radps=np.concatenate(gyr),
    )


def test_long_rests_between_walks_pull_no_clock_to_zero() -> None:
    chest, wrist = (with_a_long_rest_between(*worn) for worn in (("chest", 0), ("left_wrist", 3)))
    fit = align(chest, wrist)[1]
    assert worst_error_s(wrist, fit, 3.0, 0.0) < 0.02


def test_a_sensor_that_never_moved_is_refused() -> None:
    still = recording_of(np.tile(MOUNTINGS["chest"], (8000, 1)), RATE_HZ, placement="left_wrist")
    fit = align(sensor("chest"), still)[1]
    assert fit.source == "assumed"
    assert fit.notices[0].severity == "check"


def test_a_given_clock_is_kept_and_no_clock_is_sought_where_told() -> None:
    chest, wrist = sensor("chest"), sensor("left_wrist", offset_s=3.0)
    given = align(chest, replace(wrist, clock_is_given=True))[1]
    assert replace(given, notices=()) == ClockFit("left_wrist", 0.0, 0.0, 0.0, "given")
    assert align(chest, wrist, align_clocks=False)[1].source == "assumed"


@pytest.mark.parametrize("stated", ["clock_is_given", "clock_is_event"])
def test_a_stated_clock_that_the_motion_contradicts_is_kept_and_told(stated: str) -> None:
    chest = sensor("chest")
    for offset_s, told in ((0.0, False), (0.08, False), (1.37, True), (-0.5, True)):
        wrist = sensor("left_wrist", offset_s=offset_s)
        fit = align(chest, replace(wrist, **{stated: True}))[1]  # type: ignore[arg-type]
        assert (fit.offset_s, fit.drift_ppm) == (0.0, 0.0)
        assert [notice.code for notice in fit.notices] == ["clock_contradicted"] * told
    unclear = align(chest, replace(sensor("left_wrist", seed=2), **{stated: True}))[1]  # type: ignore[arg-type]
    assert unclear.notices == ()


def test_a_clock_set_by_an_event_is_kept_and_as_certain_as_its_readings() -> None:
    chest, wrist = sensor("chest"), sensor("left_wrist", offset_s=3.0)
    fit = align(chest, replace(wrist, clock_is_event=True))[1]
    assert (fit.offset_s, fit.drift_ppm, fit.source) == (0.0, 0.0, "event")
    assert 0.0 < fit.sd_s < 1.0 / RATE_HZ


def test_the_first_sensor_leads_where_there_is_no_chest() -> None:
    left, right = sensor("left_wrist"), sensor("right_wrist", offset_s=-12.0, drift_ppm=-40)
    fits = align(left, right)
    assert [fit.source for fit in fits] == ["reference", "shared_motion"]
    assert worst_error_s(right, fits[1], -12.0, -40) < 0.02
    assert align() == ()


def test_sensors_of_different_rates_are_aligned() -> None:
    chest = sensor("chest", rate_hz=104.0)
    wrist = sensor("left_wrist", rate_hz=40.0, offset_s=4.2)
    assert worst_error_s(wrist, align(chest, wrist)[1], 4.2, 0.0) < 0.02


def test_remounting_a_sensor_moves_no_clock() -> None:
    chest, wrist = sensor("chest"), sensor("left_wrist", offset_s=1.7)
    turn = rotations.from_rotation_vector(np.array([2.0, -1.0, 0.5]))
    other = replace(
        wrist,
        acc_mps2=rotations.rotate(turn, wrist.acc_mps2),
        gyr_radps=rotations.rotate(turn, wrist.gyr_radps),
    )
    first, second = align(chest, wrist)[1], align(chest, other)[1]
    assert second.offset_s == pytest.approx(first.offset_s, abs=1e-6)
    assert second.drift_ppm == pytest.approx(first.drift_ppm, abs=0.01)


def test_the_session_clock_keeps_the_grid_uniform_and_the_samples() -> None:
    wrist = sensor("left_wrist", length_s=60)
    moved = on_session_clock(wrist, ClockFit("left_wrist", -2.0, 100.0, 0.01, "shared_motion"))
    assert np.allclose(np.diff(moved.time_s), 1 / moved.rate_hz, atol=1e-12)
    assert moved.time_s[0] == -2.0
    assert moved.acc_mps2 is wrist.acc_mps2
    same = on_session_clock(wrist, ClockFit("left_wrist", 0.0, 0.0, 0.01, "shared_motion"))
    assert same is wrist


@pytest.mark.parametrize("df", [4, 14, 100])
@pytest.mark.parametrize("t", [-3.0, 0.5, 2.5, 5.0])
def test_student_quantiles_on_the_normal_scale(t: float, df: int) -> None:
    exact = float(stats.norm.isf(stats.t.sf(abs(t), df)))
    # Wallace's approximation: within 1 % from 4 degrees of freedom on.
    assert abs(normal_from_t(t, df)) == pytest.approx(exact, rel=0.01)
    assert np.sign(normal_from_t(t, df)) == np.sign(t)


def test_simulated_carries_on_three_clocks_are_joined() -> None:
    spec = demo_spec()
    clocks = {"chest": (0.0, 0.0), "left_wrist": (12.34, 60.0), "right_wrist": (-7.2, -80.0)}
    sensors = tuple(
        replace(
            item,
            clock_offset_s=clocks[item.placement][0],
            clock_drift_ppm=clocks[item.placement][1],
        )
        for item in spec.sensors
    )
    simulated = simulate_session(replace(spec, sensors=sensors, bouts=spec.bouts[:3]), 3)
    # Session times begin at the earliest stamp: the right wrist's, 7.2 s before the chest's.
    fits = align(*simulated.recordings)
    for recording, fit in zip(simulated.recordings[1:], fits[1:], strict=True):
        offset_s, drift_ppm = clocks[recording.placement]
        stamp_s = recording.time_s - 7.2
        true_s = (stamp_s - offset_s) / (1 + 1e-6 * drift_ppm) + 7.2
        apart_s = on_session_clock(recording, fit).time_s - true_s
        assert np.abs(apart_s).max() < 0.02
