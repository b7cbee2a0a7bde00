"""Bouts against the free walk: known answers on bouts that are built stride by stride."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from accuracy_findings import Client, finding_rows, findings, share, stride_bout

from imucarry.basics.records import BoutData, BoutRow, Comparison, Estimate, Score, Side, StrideYaw
from imucarry.basics.settings import CarrySettings
from imucarry.carry.baseline import against_free_walk
from imucarry.carry.bout_checks import arm_share, bout_checks, yardstick_in_doubt
from imucarry.carry.kept import (
    WalkMean,
    between_walk_variance,
    find_score,
    log_ratio,
    walk_mean,
)
from imucarry.measures.reasons import MISSING

SETTINGS = CarrySettings()
Built = tuple[BoutData, tuple[Score, ...]]


def walk(
    name: str, mean_deg: float, *, at_s: float = 0.0, hold: str = "suitcase", n: int = 24,
    phase_deg: float = 20.0, distance_m: float = float("nan"), baseline: tuple[str, ...] = (),
) -> Built:  # fmt: skip
    """A bout whose yaw ranges scatter by 10 % about a mean that they hit exactly."""
    spread = np.tile([1.0, -1.0, -1.0, 1.0], n // 4) * 0.1 * mean_deg
    row = BoutRow(
        name, at_s, at_s + 30.0, hold=hold, loaded_side="none" if hold == "free" else "right",
        load_kg=0.0 if hold == "free" else 8.0, distance_m=distance_m, baseline=baseline,
    )  # fmt: skip
    return stride_bout(row, int(at_s), mean_deg + spread, phase_deg=phase_deg)


def compare(*built: Built, settings: CarrySettings = SETTINGS) -> dict[str, Comparison]:
    bouts, scores = zip(*built, strict=True)
    return {
        data.row.bout: comparison
        for data, comparison in zip(bouts, against_free_walk(bouts, scores, settings), strict=True)
    }


def kept(comparison: Comparison, measure: str = "yaw_kept", side: str = "none") -> Estimate:
    score = find_score(comparison.scores, measure, side)
    assert score is not None
    return score.estimate


def codes(comparison: Comparison) -> set[str]:
    return {notice.code for notice in comparison.notices}


def test_kept_is_the_ratio_to_the_mean_of_the_free_walks_with_equal_weight() -> None:
    found = compare(
        walk("f1", 10.0, hold="free", n=40),
        walk("c", 4.5, at_s=1),
        walk("f2", 8.0, at_s=2, hold="free"),
    )
    assert kept(found["c"]).value == pytest.approx(50.0)
    assert found["c"].baseline_bouts == ("f1", "f2")
    assert kept(found["f1"]).value == pytest.approx(125.0)
    assert found["f1"].baseline_bouts == ("f2",)


@pytest.mark.parametrize(
    ("mean_deg", "finding"),
    [(10.0, "rotates"), (7.5, "unclear"), (5.0, "reduced"), (2.0, "minimal")],
)
def test_findings_follow_the_limits(mean_deg: float, finding: str) -> None:
    free = [walk(f"f{k}", 10.0, at_s=k, hold="free") for k in range(4)]
    comparison = compare(*free, walk("c", mean_deg, at_s=9))["c"]
    assert comparison.rotation_finding == finding
    low, high = kept(comparison).ci_low, kept(comparison).ci_high
    assert {"rotates": low > 75, "unclear": low <= 75 <= high, "reduced": 40 <= high < 75,
            "minimal": high < 40}[finding]  # fmt: skip


def test_thresholds_are_settings() -> None:
    free = [walk(f"f{k}", 10.0, at_s=k, hold="free") for k in range(4)]
    settings = CarrySettings(reduced_pct=40.0, minimal_pct=20.0)
    found = compare(*free, walk("c", 6.0, at_s=9), settings=settings)
    assert found["c"].rotation_finding == "rotates"


def test_named_baseline_is_used_alone() -> None:
    found = compare(
        walk("f1", 10.0, hold="free"), walk("f2", 5.0, at_s=1, hold="free"),
        walk("c", 5.0, at_s=2, baseline=("f2",)),
    )  # fmt: skip
    assert kept(found["c"]).value == pytest.approx(100.0)
    assert found["c"].baseline_bouts == ("f2",)


def test_one_free_walk_is_said_and_two_are_not() -> None:
    one = compare(walk("f1", 10.0, hold="free"), walk("c", 9.0, at_s=1))
    two = compare(walk("f1", 10.0, hold="free"), walk("c", 9.0, at_s=1),
                  walk("f2", 10.0, at_s=2, hold="free"))  # fmt: skip
    assert {n.severity for n in one["c"].notices if n.code == "one_free_walk"} == {"check"}
    assert message(one["c"], "one_free_walk").endswith(" %. Record two or more free walks")
    assert "one_free_walk" not in codes(two["c"])
    assert kept(one["f1"]).missing_because == "no_free_walk"
    assert one["f1"].rotation_finding == "no_baseline"


@pytest.mark.parametrize(("after_deg", "moved"), [(10.0, False), (7.0, True)])
def test_a_baseline_that_moved_is_said(after_deg: float, moved: bool) -> None:
    found = compare(
        walk("f1", 10.0, hold="free"), walk("c", 6.0, at_s=1),
        walk("f2", after_deg, at_s=2, hold="free"),
    )  # fmt: skip
    assert ("baseline_moved" in codes(found["c"])) is moved


def test_a_slow_walk_on_one_side_alone_does_not_move_the_baseline() -> None:
    comfortable, slow = (1.2, 1.3), (0.8, 0.95)
    visit = [
        with_pace(walk("f1", 10.0, hold="free"), *comfortable),
        with_pace(walk("s1", 5.0, at_s=1, hold="free"), *slow),
        with_pace(walk("c", 6.0, at_s=2), *comfortable),
        with_pace(walk("f2", 9.8, at_s=3, hold="free"), *comfortable),
    ]
    assert codes(compare(*visit)["c"]).isdisjoint({"baseline_moved", "baseline_moved_with_pace"})
    without_pace = [(data, scores[:1]) for data, scores in visit]
    assert "baseline_moved" in codes(compare(*without_pace)["c"])


def test_a_baseline_that_moved_is_told_in_words_and_not_in_signs() -> None:
    found = compare(
        walk("f1", 10.0, hold="free"), walk("c", 6.0, at_s=1), walk("f2", 5.2, at_s=2, hold="free")
    )
    assert "f2 turned 48 % less than f1" in message(found["c"], "baseline_moved")


def test_another_pace_is_no_cause_where_pace_is_known_to_be_alike() -> None:
    visit = [
        with_pace(walk("f1", 10.0, hold="free"), 1.2, 1.3), walk("c", 6.0, at_s=1),
        with_pace(walk("f2", 5.2, at_s=2, hold="free"), 1.2, 1.3),
    ]  # fmt: skip
    assert "another pace" not in message(compare(*visit)["c"], "baseline_moved")
    without_pace = [(data, scores[:1]) for data, scores in visit]
    assert "another pace" in message(compare(*without_pace)["c"], "baseline_moved")


def message(comparison: Comparison, code: str) -> str:
    (notice,) = [notice for notice in comparison.notices if notice.code == code]
    return notice.message


@pytest.mark.parametrize(
    ("after_deg", "speed_mps", "told"),
    [
        (5.8, 0.96, "turned 38 % less than the others and was 22 % slower: fatigue or pace"),
        (15.0, 1.6, "turned 61 % more than the others and was 30 % faster: pace"),
        (9.0, 0.96, ""),
        (5.8, 1.24, ""),
    ],
)
def test_a_last_free_walk_that_turned_less_and_was_slower_is_said(
    after_deg: float, speed_mps: float, told: str
) -> None:
    found = compare(
        with_pace(walk("f1", 9.5, hold="free"), 1.24, 1.36),
        with_pace(walk("f2", 9.1, at_s=1, hold="free"), 1.23, 1.35),
        with_pace(walk("c", 6.0, at_s=2), 1.2, 1.3),
        with_pace(walk("f3", after_deg, at_s=3, hold="free"), speed_mps, 1.36 * speed_mps / 1.24),
    )["c"]
    if not told:
        assert "baseline_moved_with_pace" not in codes(found)
        return
    assert told in message(found, "baseline_moved_with_pace")
    assert {n.severity for n in found.notices if n.code == "baseline_moved_with_pace"} == {"check"}


@pytest.mark.parametrize("after", [True, False])
def test_slow_free_walks_before_and_after_are_no_fatigue(after: bool) -> None:
    slow = [with_pace(walk("s1", 5.0, at_s=1, hold="free"), 0.8, 0.95)]
    if after:
        slow.append(with_pace(walk("s2", 5.0, at_s=4, hold="free"), 0.8, 0.95))
    found = compare(
        with_pace(walk("f1", 10.0, hold="free"), 1.2, 1.3),
        with_pace(walk("c", 6.0, at_s=2), 1.2, 1.3),
        with_pace(walk("f2", 10.0, at_s=3, hold="free"), 1.2, 1.3),
        *slow,
    )
    assert codes(found["c"]).isdisjoint({"baseline_moved", "baseline_moved_with_pace"})


def test_without_a_free_walk_there_is_no_baseline() -> None:
    found = compare(walk("c", 6.0))
    assert found["c"].rotation_finding == "no_baseline"
    assert np.isnan(kept(found["c"]).value)


def test_without_a_chest_sensor_rotation_is_not_measured() -> None:
    built = [walk("f1", 10.0, hold="free"), walk("c", 9.0, at_s=1)]
    bare = [(replace(data, trunk=None, columns={}), ()) for data, _ in built]
    found = compare(*bare)
    assert found["c"].rotation_finding == "not_measured"
    assert kept(found["c"]).missing_because == "no_chest_sensor"
    assert kept(found["c"], "arm_swing_kept", "left").missing_because == "no_wrist_sensor"


def test_a_small_baseline_leaves_the_finding_unclear() -> None:
    found = compare(walk("f1", 2.9, hold="free"), walk("f2", 2.9, hold="free"), walk("c", 0.5))
    assert found["c"].rotation_finding == "unclear"
    assert found["c"].finding_because == "baseline_small"
    assert "turns too little to compare with: 2.9 deg, and at least 3.0 deg" in message(
        found["c"], "baseline_small"
    )
    assert {n.severity for n in found["c"].notices if n.code == "baseline_small"} == {"check"}
    assert "baseline_small" not in codes(compare(walk("f1", 3.1, hold="free"), walk("c", 3.0))["c"])


def test_speed_is_said_to_be_unchecked_without_a_distance() -> None:
    found = compare(walk("f1", 10.0, hold="free"), walk("c", 9.0, at_s=1))
    said = "speed not known, so less rotation may be shorter steps"
    assert message(found["c"], "speed_not_checked") == said
    assert [n.where for n in found["c"].notices if n.code == "speed_not_checked"] == ["c"]
    of_free = compare(walk("f1", 10.0, hold="free"), with_pace(walk("c", 9.0, at_s=1), 1.3, 1.4))
    assert message(of_free["c"], "speed_not_checked") == f"the free walks' {said}"


def with_pace(built: Built, speed_mps: float, stride_m: float) -> Built:
    data, scores = built
    pace = [("speed", "m/s", speed_mps), ("stride_length", "m", stride_m)]
    return data, (
        *scores,
        *(Score(data.row.bout, name, "none", "none", unit, Estimate(value))
          for name, unit, value in pace),
    )  # fmt: skip


def test_a_carry_is_matched_to_the_free_walk_of_like_pace() -> None:
    found = compare(
        with_pace(walk("fast", 10.0, hold="free"), 1.3, 1.4),
        with_pace(walk("slow", 5.0, at_s=1, hold="free"), 0.8, 0.95),
        with_pace(walk("c", 5.0, at_s=2), 0.82, 0.93),
    )
    assert kept(found["c"]).value == pytest.approx(100 * 5 / 7.5)
    assert kept(found["c"], "yaw_kept_matched").value == pytest.approx(100.0)
    assert found["c"].like_bouts == ("slow",)
    assert codes(found["c"]).isdisjoint({"speed_differs", "speed_not_checked"})


LESS = "which by itself turns the trunk less"
MORE = "which by itself turns the trunk more"
EITHER = "which by itself may change how far the trunk turns"


@pytest.mark.parametrize(
    ("mean_deg", "pace", "severity", "said"),
    [
        (10.0, (0.8, 0.9), "note", ("slower and with shorter strides", LESS)),
        (
            7.0,
            (0.8, 0.9),
            "check",
            ("shorter", f"{LESS}: part of the loss of rotation may come from that"),
        ),
        (
            4.0,
            (0.8, 0.9),
            "check",
            ("shorter", f"{LESS}: part of the loss of rotation may come from that"),
        ),
        (10.0, (1.62, 1.5), "check", ("faster and with longer strides", f"{MORE}: what was kept")),
        (10.0, (1.7, 1.7), "check", ("faster and with longer strides", f"{MORE}: what was kept")),
        (4.0, (1.7, 1.7), "check", ("faster and with longer strides", f"{MORE}: what was kept")),
        (4.0, (1.3, 1.2), "check", ("walked with shorter strides than", LESS)),
        (10.0, (1.6, 1.45), "check", ("walked faster than", f"{EITHER}: the share kept may be")),
    ],
)
def test_a_carry_without_a_free_walk_of_like_pace_is_told_what_pace_does(
    mean_deg: float, pace: tuple[float, float], severity: str, said: tuple[str, str]
) -> None:
    found = compare(
        with_pace(walk("f1", 10.0, hold="free"), 1.3, 1.4),
        with_pace(walk("f2", 10.0, at_s=1, hold="free"), 1.3, 1.4),
        with_pace(walk("c", mean_deg, at_s=2), *pace),
    )["c"]
    (notice,) = [notice for notice in found.notices if notice.code == "speed_differs"]
    assert notice.severity == severity
    assert said[0] in notice.message
    end = notice.message.index(said[1])
    assert severity == "check" or notice.message[end:] == said[1]
    speeds = f"{pace[0]:.2f} against 1.30 m/s"
    strides = f"strides of {pace[1]:.2f} against 1.40 m)"
    words = notice.message.split(" than ")[0]
    assert (speeds in notice.message) == ("faster" in words or "slower" in words)
    assert (strides in notice.message) == ("strides" in words)


def test_pace_is_no_check_where_the_free_walk_hardly_turned() -> None:
    found = compare(
        with_pace(walk("f1", 2.0, hold="free"), 1.3, 1.4), with_pace(walk("c", 0.5), 0.8, 0.9)
    )["c"]
    assert {n.severity for n in found.notices if n.code == "speed_differs"} == {"note"}


def test_rotation_at_like_speed_is_missing_without_a_free_walk_of_like_pace() -> None:
    found = compare(
        with_pace(walk("f1", 10.0, hold="free"), 1.3, 1.4),
        with_pace(walk("c", 9.0, at_s=2), 0.8, 0.9),
    )
    matched = kept(found["c"], "yaw_kept_matched")
    assert np.isnan(matched.value)
    assert matched.missing_because == "no_like_walk"
    assert "no_like_walk" in MISSING


def with_cadence(built: Built, steps_a_minute: float) -> Built:
    data, scores = built
    estimate = Estimate(steps_a_minute, steps_a_minute - 1.0, steps_a_minute + 1.0, 24)
    return data, (*scores, Score(data.row.bout, "cadence", "none", "none", "1/min", estimate))


@pytest.mark.parametrize(
    ("free", "carry", "differs"),
    [
        ((60.0, 60.0), 110.0, True),
        ((110.0, 110.0), 98.0, True),
        ((100.0, 100.0), 109.0, False),
        ((100.0, 100.0), 92.0, False),
        ((90.0, 110.0), 109.0, False),  # the mean of the free walks is what a carry is held to
        ((70.0, 110.0), 110.0, True),
        ((float("nan"), 100.0), 101.0, False),
        ((float("nan"), float("nan")), 101.0, False),
        ((100.0, 100.0), float("nan"), False),
    ],
)
def test_without_a_distance_another_cadence_is_said(
    free: tuple[float, float], carry: float, differs: bool
) -> None:
    found = compare(
        with_cadence(walk("f1", 10.0, hold="free"), free[0]),
        with_cadence(walk("c", 9.0, at_s=1), carry),
        with_cadence(walk("f2", 10.0, at_s=2, hold="free"), free[1]),
    )
    assert ("cadence_differs" in codes(found["c"])) is differs
    assert "speed_not_checked" in codes(found["c"])
    assert "cadence_differs" not in codes(found["f1"])


def test_the_notice_on_cadence_tells_how_far_the_walks_are_apart() -> None:
    found = compare(
        with_cadence(walk("f1", 10.0, hold="free"), 60.0),
        with_cadence(walk("c", 9.0, at_s=1), 111.0),
        with_cadence(walk("f2", 10.0, at_s=2, hold="free"), 62.0),
        with_cadence(walk("named", 9.0, at_s=3, baseline=("f2",)), 63.0),
    )
    (notice,) = [n for n in found["c"].notices if n.code == "cadence_differs"]
    assert (notice.severity, notice.where) == ("check", "c")
    assert notice.message.startswith(
        "82 % more steps a minute than in the free walk (111 against 61 steps/min)."
    )
    slow = compare(
        with_cadence(walk("f1", 10.0, hold="free"), 110.0),
        with_cadence(walk("c", 9.0, at_s=1), 88.0),
    )
    assert message(slow["c"], "cadence_differs").startswith("20 % fewer steps")
    assert "cadence_differs" not in codes(found["named"])


def test_where_speed_is_known_cadence_is_not_judged() -> None:
    found = compare(
        with_pace(with_cadence(walk("f1", 10.0, hold="free"), 90.0), 1.2, 1.3),
        with_pace(with_cadence(walk("c", 9.0, at_s=1), 110.0), 1.2, 1.3),
        with_cadence(walk("unpaced", 9.0, at_s=2), 110.0),
    )
    assert codes(found["c"]).isdisjoint({"speed_differs", "speed_not_checked", "cadence_differs"})
    assert "cadence_differs" in codes(found["unpaced"])


@pytest.mark.parametrize(("phase_deg", "unusual"), [(60.0, False), (200.0, True), (-30.0, False)])
def test_an_unusual_phase_is_said(phase_deg: float, unusual: bool) -> None:
    found = compare(
        walk("f1", 10.0, hold="free"), walk("c", 9.0, at_s=1, phase_deg=phase_deg % 360.0)
    )
    assert ("phase_unusual" in codes(found["c"])) is unusual


def with_floor(built: Built, floor_deg: float) -> Built:
    data, scores = built
    n = data.strides.start_s.size
    nothing = np.zeros(n)
    floor = np.full(n, np.radians(floor_deg))
    yaw = StrideYaw(*[nothing] * 5, floor, *[nothing] * 3, np.zeros((n, 101)))
    return replace(data, yaw=yaw), scores


@pytest.mark.parametrize(
    ("floor_deg", "own_deg", "found"),
    [
        (3.0, 9.5, ("rotates", "")),
        (3.5, 9.5, ("unclear", "baseline_small")),
        (3.5, 11.0, ("rotates", "")),
        (3.3, 8.5, ("unclear", "interval_holds_threshold")),
        (3.5, 8.5, ("unclear", "baseline_small")),
        (4.9, 8.5, ("unclear", "baseline_small")),
        (5.5, 8.5, ("unclear", "baseline_small")),
        (3.5, 5.5, ("reduced", "")),
        (7.0, 5.5, ("unclear", "baseline_small")),
        (3.5, 2.0, ("minimal", "")),
        (9.8, 2.0, ("unclear", "baseline_small")),
        (10.5, 0.1, ("unclear", "baseline_small")),
    ],
)
def test_a_baseline_that_varies_is_used_where_it_cannot_change_the_finding(
    floor_deg: float, own_deg: float, found: tuple[str, str]
) -> None:
    free = [with_floor(walk(f"f{k}", 10.0, at_s=k, hold="free"), floor_deg) for k in range(2)]
    got = compare(*free, walk("c", own_deg, at_s=9))["c"]
    assert (got.rotation_finding, got.finding_because) == found
    told = [n.message for n in got.notices if n.code == "baseline_small"]
    so = (
        "what a load takes away cannot be told"
        if floor_deg > 5.0
        else "what a load takes away is told only where this cannot change the answer"
    )
    small = (
        "the free walk itself turns 10.0 deg, and motion that does not repeat with the stride "
        f"would give {floor_deg:.1f} deg by itself, so {so}"
    )
    assert told == ([small] if found[1] == "baseline_small" else [])


@pytest.mark.parametrize("free_deg", [3.1, 2.9])
def test_a_small_free_walk_leaves_all_loads_without_an_answer_for_one_reason(
    free_deg: float,
) -> None:
    free = [with_floor(walk(f"f{k}", free_deg, at_s=k, hold="free"), 1.5) for k in range(2)]
    carries = [walk(f"c{k}", kept * free_deg, at_s=k) for k, kept in enumerate((1.0, 0.9, 0.8), 5)]
    found = [item for name, item in compare(*free, *carries).items() if name.startswith("c")]
    assert {item.finding_because for item in found} == {"baseline_small"}
    notices = {n for item in found for n in item.notices if n.code == "baseline_small"}
    assert [n.where for n in notices] == [""]  # of the walks: one line for all carries


@pytest.mark.parametrize(("floor_deg", "near"), [(1.0, False), (2.0, True)])
def test_rotation_near_its_floor_is_said(floor_deg: float, near: bool) -> None:
    free = [walk(f"f{k}", 10.0, at_s=k, hold="free") for k in range(2)]
    found = compare(*free, with_floor(walk("c", 3.0, at_s=9), floor_deg))
    assert ("yaw_near_floor" in codes(found["c"])) is near


def test_too_few_strides_pass_their_reason_on() -> None:
    data, (score,) = walk("c", 5.0, at_s=9)
    few = replace(score, estimate=Estimate(missing_because="too_few_strides"))
    found = compare(walk("f1", 10.0, hold="free"), (data, (few,)))
    assert found["c"].rotation_finding == "unclear"
    assert found["c"].finding_because == "too_few_strides"


def test_likeness_of_neighbouring_strides_widens_the_interval() -> None:
    rng = np.random.default_rng(3)
    values = rng.normal(0, 1, 40)
    slow = np.convolve(values, np.ones(5) / np.sqrt(5), "same")
    slow *= values.std() / slow.std()
    row = BoutRow("c", 9.0, 10.0, hold="rack", loaded_side="right", load_kg=8.0)
    free = walk("f1", 10.0, hold="free")
    widths = [
        np.ptp([kept(found).ci_low, kept(found).ci_high])
        for series in (values, slow)
        for found in [compare(free, stride_bout(row, 9, 8.0 + series - series.mean()))["c"]]
    ]
    assert widths[1] > widths[0]


def test_without_strides_the_error_is_read_from_the_scores_interval() -> None:
    """t(0.975, 19) = 2.093024 (tables): half a width of 2.093024 is a standard error of 1."""
    data, _ = walk("c", 20.0)
    estimate = Estimate(20.0, 20.0 - 2.093024, 20.0 + 2.093024, 20)
    score = Score("c", "arm_swing", "left", "free", "deg", estimate)
    found = walk_mean(replace(data, trunk=None, columns={}), score)
    assert found is not None
    assert found.log_se == pytest.approx(0.05, rel=1e-6)
    assert found.df == 19.0


def test_between_walk_variance_is_the_prior_without_repeats() -> None:
    one = WalkMean("f", 10.0, 0.02, 19.0, 20)
    assert between_walk_variance([one], SETTINGS) == (pytest.approx(0.07**2), 20.0)


def test_between_walk_variance_pools_prior_and_repeats_by_their_df() -> None:
    logs = np.array([-0.2, 0.0, 0.2])
    walks = [WalkMean(str(k), float(np.exp(x)), 0.1, 19.0, 20) for k, x in enumerate(logs)]
    variance, df = between_walk_variance(walks, SETTINGS)
    assert df == 22.0
    assert variance == pytest.approx((20 * 0.07**2 + 0.08 - 2 * 0.1**2) / 22)


def test_walks_of_another_pace_do_not_widen_the_interval() -> None:
    alike = [WalkMean("a", 10.0, 0.02, 19.0, 20, 0), WalkMean("b", 10.0, 0.02, 19.0, 20, 0)]
    other = WalkMean("c", 5.0, 0.02, 19.0, 20, 2)
    assert between_walk_variance([*alike, other], SETTINGS)[0] < 0.07**2


def test_log_ratio_adds_the_variances_of_bout_and_baseline() -> None:
    settings = CarrySettings(between_walk_cv_pct=0.0)
    bout = WalkMean("c", 5.0, 0.03, 19.0, 20)
    free = [WalkMean("f1", 10.0, 0.04, 19.0, 20), WalkMean("f2", 10.0, 0.04, 19.0, 20)]
    ratio = log_ratio(bout, free, free, settings)
    assert ratio.value == pytest.approx(np.log(0.5))
    assert ratio.se_bout == pytest.approx(0.03)
    assert ratio.se_baseline == pytest.approx(0.04 / np.sqrt(2))


@pytest.mark.parametrize(("mean_deg", "is_told"), [(14.0, True), (10.4, False), (7.0, False)])
def test_a_carry_that_turns_more_than_the_free_walks_is_doubted(
    mean_deg: float, is_told: bool
) -> None:
    walks = [with_pace(walk(f"f{k}", 10.0, at_s=k, hold="free"), 1.3, 1.4) for k in range(4)]
    found = compare(*walks, with_pace(walk("c", mean_deg, at_s=5), 1.3, 1.4))["c"]
    assert ("turned_more_than_free" in codes(found)) == is_told
    if is_told:
        said = message(found, "turned_more_than_free")
        assert said.startswith("the trunk turned more than in the free walks (140 %)")
    faster = compare(*walks, with_pace(walk("c", mean_deg, at_s=5), 1.7, 1.7))["c"]
    assert "turned_more_than_free" not in codes(faster)  # its pace is told to explain it


def with_arm(built: Built, mean_deg: float, role: str = "free", side: str = "left") -> Built:
    data, scores = built
    values = mean_deg + np.tile([1.0, -1.0], 12)
    estimate = Estimate(mean_deg, mean_deg - 1, mean_deg + 1, 24)
    arm = Score(data.row.bout, "arm_swing", side, role, "deg", estimate)  # type: ignore[arg-type]
    return replace(data, columns={**data.columns, f"{side}_arm_swing_deg": values}), (*scores, arm)


COMFORTABLE, SLOW = (1.25, 1.36), (0.8, 0.95)


def test_arms_are_read_against_free_walks_of_like_pace_where_those_differ() -> None:
    found = compare(
        with_pace(with_arm(walk("f1", 10.0, hold="free"), 38.0), *COMFORTABLE),
        with_pace(with_arm(walk("s1", 8.0, at_s=1, hold="free"), 24.0), *SLOW),
        with_pace(with_arm(walk("c", 9.0, at_s=2), 21.0), *COMFORTABLE),
        with_pace(with_arm(walk("fast", 9.0, at_s=3), 21.0), 1.9, 1.8),
        with_pace(with_arm(walk("slower", 9.0, at_s=3), 21.0), 0.6, 0.8),
        with_pace(with_arm(walk("held", 9.0, at_s=4), 21.0, "held"), *COMFORTABLE),
        with_pace(with_arm(walk("bare", 9.0, at_s=5), float("nan")), *COMFORTABLE),
    )
    assert kept(found["c"], "arm_swing_kept", "left").value == pytest.approx(100 * 21 / 31)
    assert kept(found["c"], "arm_swing_kept_matched", "left").value == pytest.approx(100 * 21 / 38)
    share = arm_share(found["c"], "left")
    assert share is not None
    assert share.measure == "arm_swing_kept_matched"
    apart = {
        name: n
        for name, comparison in found.items()
        for n in comparison.notices
        if n.code == "arm_swing_apart"
    }
    assert apart["c"].severity == "note"
    assert apart["c"].message == (
        "the arms swung very differently in the free walks (left 24 to 38 deg): the carry's arms "
        "are read against the free walks of like pace alone"
    )
    assert apart["fast"].severity == "check"
    assert {name: notice.where for name, notice in apart.items()} == {name: name for name in apart}
    none = "no free walk of like pace for the arms: their share may be too"
    assert apart["fast"].message == f"{none} high. Record one at 1.90 m/s"
    assert apart["slower"].message == f"{none} low. Record one at 0.60 m/s"
    (checked,) = bout_checks(BoutRow("c", 0.0, 1.0, hold="suitcase"), found["c"], SETTINGS)
    assert "55 % of its swing in the free walks of like pace" in checked.message
    unlike = arm_share(found["fast"], "left")
    assert unlike is not None
    assert unlike.measure == "arm_swing_kept"
    assert "arm_swing_apart" not in codes(found["held"])
    assert "arm_swing_apart" not in codes(found["bare"])
    assert "arm_swing_apart" not in codes(found["f1"])


@pytest.mark.parametrize(
    ("swing_deg", "pace", "severity", "errs"),
    [
        (22.0, (1.21, 1.29), "check", "high"),  # 96 %: it may be too high
        (10.0, (1.21, 1.29), "note", "high"),  # 43 %: less even so
        (10.0, (0.6, 0.8), "check", "low"),
        (30.0, (0.6, 0.8), "note", "low"),
    ],
)
def test_an_arm_read_against_one_walk_of_another_pace_is_a_check_where_it_matters(
    swing_deg: float, pace: tuple[float, float], severity: str, errs: str
) -> None:
    found = compare(
        with_pace(with_arm(walk("slow", 8.5, hold="free"), 23.0), 0.88, 1.15),
        with_pace(with_arm(walk("c", 9.0, at_s=2), swing_deg), *pace),
        with_pace(with_arm(walk("like", 9.0, at_s=3), swing_deg), 0.88, 1.15),
    )
    (notice,) = [n for n in found["c"].notices if n.code == "arm_walks_unlike"]
    assert (notice.severity, notice.where) == (severity, "c")
    assert notice.message == (
        f"no free walk of like pace for the arms: their share may be too {errs}. Record one at "
        f"{pace[0]:.2f} m/s"
    )
    assert "arm_walks_unlike" not in codes(found["like"])


def test_without_a_distance_free_arms_that_differ_are_told_too() -> None:
    found = compare(
        with_arm(walk("f1", 10.0, hold="free"), 38.0),
        with_arm(walk("s1", 8.0, at_s=1, hold="free"), 24.0),
        with_arm(walk("c", 9.0, at_s=2), 21.0),
        with_arm(walk("named", 9.0, at_s=3, baseline=("f1",)), 21.0),
    )
    said = message(found["c"], "arm_swing_apart")
    assert "(left 24 to 38 deg): the carry's share of their mean may be too high or too" in said
    assert said.endswith(
        "Name the free walks of like pace in the column `baseline` of the bouts sheet"
    )
    assert "arm_swing_apart" not in codes(found["named"])


def with_arms(built: Built, left_deg: float, right_deg: float, right: str = "free") -> Built:
    return with_arm(with_arm(built, left_deg), right_deg, right, "right")


def test_a_free_arm_is_read_as_ever_where_the_held_arm_differs_between_the_free_walks() -> None:
    free = (
        with_pace(with_arms(walk("f1", 10.0, hold="free"), 30.0, 38.0), *COMFORTABLE),
        with_pace(with_arms(walk("s1", 8.0, at_s=1, hold="free"), 28.0, 24.0), *SLOW),
    )
    carried = with_arms(walk("held", 9.0, at_s=2), 29.0, 4.0, "held")
    both_free = with_arms(walk("free", 9.0, at_s=3), 29.0, 29.0)
    found = compare(*free, *(with_pace(built, *COMFORTABLE) for built in (carried, both_free)))
    assert "arm_swing_apart" not in codes(found["held"])
    share = arm_share(found["held"], "left")
    assert share is not None
    assert share.measure == "arm_swing_kept"
    assert "(right 24 to 38 deg)" in message(found["free"], "arm_swing_apart")


def gesturing(built: Built, side: Side) -> Built:
    data, scores = built
    low = Estimate(0.1, -0.3, 0.4, 20)
    return data, (*scores, Score(data.row.bout, "arm_regularity", side, "free", "1", low))


def test_a_free_walk_whose_arm_did_not_move_with_the_strides_is_told_where_that_arm_is_free() -> (
    None
):
    still, carried = walk("f1", 10.0, hold="free"), walk("c", 9.0, at_s=3)
    left = gesturing(with_arms(walk("f2", 10.0, at_s=1, hold="free"), 30.0, 30.0), "left")
    right = gesturing(with_arms(walk("f3", 10.0, at_s=2, hold="free"), 30.0, 30.0), "right")
    carry = with_arms(carried, 28.0, 3.0, "held")
    found = compare(with_arms(still, 30.0, 30.0), left, right, carry)
    told = [n for n in found["c"].notices if n.code == "free_walk_arm_unlike_strides"]
    assert [(n.where, n.severity) for n in told] == [("f2", "check")]
    assert told[0].message.startswith("in f2 the left arm moved, but not with the strides")
    assert told[0].message.endswith("Name the others in the column `baseline` of the bouts sheet")
    alone = compare(left, carry)["c"]
    assert message(alone, "free_walk_arm_unlike_strides").endswith("Record another")


@pytest.mark.parametrize(("slow_deg", "told"), [(30.0, False), (28.0, True)])
def test_free_arms_that_differ_by_chance_are_not_told(slow_deg: float, told: bool) -> None:
    found = compare(
        with_arm(walk("f1", 10.0, hold="free"), 38.0),
        with_arm(walk("f2", 10.0, at_s=1, hold="free"), slow_deg),
        with_arm(walk("c", 9.0, at_s=2), 30.0),
    )["c"]
    assert ("arm_swing_apart" in codes(found)) is told


def test_arm_swing_kept_per_side_with_its_role() -> None:
    found = compare(
        with_arm(walk("f1", 10.0, hold="free"), 30.0, "free"),
        with_arm(walk("f2", 10.0, at_s=2, hold="free"), 30.0, "free"),
        with_arm(walk("c", 9.0, at_s=1), 12.0, "held"),
    )
    arm = find_score(found["c"].scores, "arm_swing_kept", "left")
    assert arm is not None
    assert arm.role == "held"
    assert arm.estimate.value == pytest.approx(40.0)
    assert arm.estimate.ci_low < 40.0 < arm.estimate.ci_high


@pytest.mark.parametrize(
    ("kept_frac", "n_free", "words", "least", "most"),
    [
        (1.0, 2, ("reduced", "minimal"), 0.0, 1.0),
        (1.0, 2, ("rotates",), 60.0, 100.0),
        (1.0, 6, ("rotates",), 85.0, 100.0),
        (0.5, 2, ("reduced", "minimal"), 90.0, 100.0),
        (0.25, 2, ("reduced", "minimal"), 99.0, 100.0),
    ],
)
def test_findings_are_right_as_often_as_asked(
    kept_frac: float, n_free: int, words: tuple[str, ...], least: float, most: float
) -> None:
    names, _ = findings(Client((kept_frac,), n_free, stride_cv=0.15), 800, seed=11)
    assert least <= share(names, words) <= most


def test_intervals_hold_the_truth_as_often_as_asked() -> None:
    covered = [
        hit
        for seed, (kept_frac, n_free) in enumerate(((1.0, 2), (1.0, 6), (0.5, 2), (0.25, 1)))
        for hit in findings(Client((kept_frac,), n_free), 600, seed=20 + seed)[1]
    ]
    assert 92.0 <= 100.0 * np.mean(covered) <= 97.0


def test_every_figure_of_the_findings_has_one_row() -> None:
    figures = [row.figure for row in finding_rows(3, 0.15)]
    assert len(figures) == 13
    assert len(set(figures)) == len(figures)


@pytest.mark.parametrize(("left_deg", "told"), [(9.0, True), (11.0, False)])
def test_an_arm_that_hardly_swung_beside_the_other_is_no_yardstick(
    left_deg: float, told: bool
) -> None:
    found = compare(
        with_arms(walk("f1", 10.0, hold="free"), left_deg, 30.0),
        with_arms(walk("f2", 10.0, at_s=1, hold="free"), left_deg, 30.0),
        with_arms(walk("c", 9.0, at_s=2), left_deg, 4.0, "held"),
    )
    about = [n for n in found["c"].notices if n.code == "free_walk_arm_still"]
    assert [(n.where, n.severity) for n in about] == told * [("f1, f2", "check")]
    assert yardstick_in_doubt(found["c"], "left") is told
    if told:
        assert "in f1, f2 the left arm swung 9 deg, the right 30" in about[0].message
