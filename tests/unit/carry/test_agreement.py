"""Agreement of two tables whose difference is known."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest

from imucarry.basics.errors import ColumnError
from imucarry.basics.limits_of_agreement import limits_of_agreement
from imucarry.basics.statistics import neighbours
from imucarry.carry.agreement import agree
from imucarry.carry.matching import nearest_pairs
from imucarry.report.agreement import lines

MEASURE = "sternum_yaw_range_deg"


def strides(
    n_persons: int, seed: int = 0, *, bias: float = 0.0, shift_s: float = 0.0
) -> pd.DataFrame:
    """Strides of one bout a person with values that both systems share but for noise and bias."""
    truth = np.random.default_rng(99)
    noise = np.random.default_rng(seed)
    rows = []
    for person in range(n_persons):
        values = truth.uniform(4, 12) + truth.normal(0, 1.0, 12)
        for k, value in enumerate(values):
            rows.append((f"P{person}", "1", "b", 1.1 * k + shift_s,
                         value + bias + noise.normal(0, 0.5)))  # fmt: skip
    return pd.DataFrame(rows, columns=["participant", "session", "bout", "start_s", MEASURE])


def test_strides_are_matched_by_time_and_bias_and_limits_found() -> None:
    found = agree(strides(20, 1, bias=1.0), strides(20, 2, shift_s=0.1), MEASURE)
    assert (found.level, found.a.size, found.n_only_a, found.n_only_b) == ("stride", 240, 0, 0)
    assert found.limits is not None
    assert found.limits_for == "repeats_within_persons"
    assert found.limits.bias.low < 1.0 < found.limits.bias.high
    assert found.limits.sd == pytest.approx(0.5 * np.sqrt(2), rel=0.12)
    assert found.rmse == pytest.approx(np.hypot(1.0, 0.5 * np.sqrt(2)), rel=0.1)
    assert found.proportional.low < 0.0 < found.proportional.high
    # Means of 12 strides: a bias of 1 in a spread of some 2.3 costs agreement, not consistency.
    assert found.icc_consistency.value > 0.98 > found.icc_agreement.value > 0.8


def test_strides_beyond_the_tolerance_or_in_one_table_only_have_no_partner() -> None:
    a, b = strides(2, 1), strides(2, 2)
    found = agree(a.drop(index=[3]), b.drop(index=[7, 8]), MEASURE)
    assert (found.a.size, found.n_only_a, found.n_only_b) == (21, 2, 1)
    with pytest.raises(ColumnError, match=r"within 0.25 s.*0.0 to 12.1 s.*0.4 to 12.5 s"):
        agree(a, strides(2, 2, shift_s=0.4), MEASURE)


def test_strides_that_are_not_kept_are_left_out() -> None:
    a = strides(2, 1).assign(kept_yaw=["true", "false"] * 12, kept_timing="true")
    assert agree(a, strides(2, 2), MEASURE).a.size == 12


def test_each_stride_has_one_partner() -> None:
    rows_a, rows_b = nearest_pairs(np.array([0.0, 0.1, 1.0]), np.array([0.08, 1.2, 5.0]), 0.25)
    assert (rows_a.tolist(), rows_b.tolist()) == ([1, 2], [0, 1])
    assert nearest_pairs(np.empty(0), np.array([1.0]), 0.2)[0].size == 0
    assert nearest_pairs(np.array([1.0]), np.array([1.1]), 0.2)[1].tolist() == [0]


def test_a_single_person_is_said() -> None:
    found = agree(strides(1, 1), strides(1, 2), MEASURE)
    assert found.limits_for == "one_person"
    assert found.limits is not None
    assert (found.limits.n_pairs, found.limits.n_persons) == (12, 1)
    assert found.icc_because == "fewer_than_10_persons"
    assert np.isnan(found.icc_agreement.value)


@pytest.mark.parametrize(("n_repeats", "kind"), [(1, "first_pairs"), (4, "first_pairs"),
                                                 (5, "repeats_within_persons")])  # fmt: skip
def test_a_few_repeats_do_not_widen_the_limits(n_repeats: int, kind: str) -> None:
    again = bouts(20, 3).iloc[:n_repeats].assign(bout="c")
    a = pd.concat([bouts(20, 1), again]).rename(columns={"value": "yaw"})
    b = pd.concat([bouts(20, 2), again.assign(value=again["value"] + 0.4)])
    b = b.rename(columns={"value": "yaw"})
    found = agree(a, b, "yaw")
    once = agree(a[a["bout"] == "b"], b[b["bout"] == "b"], "yaw")
    assert (found.limits_for, found.a.size) == (kind, 20 + n_repeats)
    assert found.limits is not None
    assert once.limits is not None
    if kind == "first_pairs":
        assert found.limits == once.limits
        assert any("first pair of each" in line for line in lines(found))
    else:
        assert found.limits.n_pairs == 25


def alike(rng: np.random.Generator) -> np.ndarray:
    """Differences of 24 strides, neighbours alike by a correlation of 0.5."""
    away = rng.standard_normal(24)
    for k in range(1, 24):
        away[k] = 0.5 * away[k - 1] + np.sqrt(0.75) * away[k]
    return away


def alike_strides() -> list[pd.DataFrame]:
    """One person's strides in two systems whose differences are alike from stride to stride."""
    rng = np.random.default_rng(1)
    away, truth = alike(rng), rng.normal(9.0, 1.0, 24)
    a = pd.DataFrame({"start_s": 1.1 * np.arange(24), "yaw": truth + away})
    return [a, a.assign(yaw=truth)]


def test_one_persons_intervals_allow_for_alike_neighbours() -> None:
    rng = np.random.default_rng(12)
    order = neighbours(np.zeros(24), np.arange(24))
    held = np.zeros((2, 2))
    for _ in range(400):
        away = alike(rng)
        for k, known in enumerate((None, order)):
            found = limits_of_agreement(away, known)
            held[k, 0] += found.bias.low <= 0.0 <= found.bias.high
            held[k, 1] += found.upper.low <= 1.96 <= found.upper.high
    # Of bias and upper limit. Two standard errors of 400 runs are 2 to 4 points.
    assert held[1].min() / 400 >= 0.89
    assert held[0].max() / 400 <= 0.87


def test_intervals_that_are_too_narrow_are_told_and_either_table_may_order_strides() -> None:
    a, b = alike_strides()
    place = {"pass": np.arange(24) // 12, "stride_in_pass": np.arange(24) % 12}
    kinds = [agree(*tables, "yaw") for tables in ((a, b), (a.assign(**place), b),
                                                  (a, b.assign(**place)))]  # fmt: skip
    assert [found.limits_for for found in kinds] == ["one_person", *["one_person_in_order"] * 2]
    assert kinds[1].limits == kinds[2].limits
    told = [any("too narrow" in line for line in lines(found)) for found in kinds]
    assert told == [True, False, False]
    plain, ordered = (found.proportional for found in kinds[:2])
    assert ordered.value == pytest.approx(plain.value)
    assert ordered.high - ordered.low > plain.high - plain.low


@pytest.mark.parametrize("places", [[1, 1, 2] * 8, ["one", "two", "three"] * 8])
def test_passes_that_do_not_order_strides_are_left_alone(places: list[object]) -> None:
    a, b = alike_strides()
    found = agree(a.assign(**{"pass": 1, "stride": places}), b, "yaw")
    assert found.limits_for == "one_person"


def bouts(n_persons: int, seed: int) -> pd.DataFrame:
    truth = np.random.default_rng(5).uniform(4, 12, n_persons)
    noise = np.random.default_rng(seed).normal(0, 0.2, n_persons)
    return pd.DataFrame(
        {"participant": [f"P{k}" for k in range(n_persons)], "bout": "b", "value": truth + noise}
    )


def test_bouts_of_a_wide_and_a_tidy_table_are_matched_by_name() -> None:
    wide = bouts(12, 1).rename(columns={"value": "yaw"})
    tidy = bouts(14, 2).assign(measure="yaw").sample(frac=1.0, random_state=1)
    found = agree(wide, tidy, "yaw")
    assert (found.level, found.a.size, found.n_only_b) == ("bout", 12, 2)
    assert found.limits_for == "persons"
    assert found.icc_agreement.value > 0.98


def test_proportional_bias_is_found() -> None:
    a = bouts(20, 1)
    found = agree(a.assign(value=1.3 * a["value"]).rename(columns={"value": "yaw"}),
                  bouts(20, 2).rename(columns={"value": "yaw"}), "yaw")  # fmt: skip
    assert found.proportional.low > 0.15


def test_tables_that_cannot_be_matched_are_refused() -> None:
    with pytest.raises(ColumnError, match="first table has no value of 'pitch'"):
        agree(bouts(3, 1), bouts(3, 2), "pitch")
    double = pd.concat([bouts(3, 1), bouts(3, 2)]).assign(measure="yaw")
    with pytest.raises(ColumnError, match="several rows"):
        agree(double, double, "yaw")
    bare = bouts(3, 1)[["value"]].assign(measure="yaw")
    with pytest.raises(ColumnError, match="share no column"):
        agree(bare, bare, "yaw")


def test_a_table_of_strides_without_times_is_the_one_named() -> None:
    whole, timeless = strides(2, 1), strides(2, 2).drop(columns="start_s")
    with pytest.raises(ColumnError, match="second table has no column start_s"):
        agree(whole, timeless, MEASURE)
    with pytest.raises(ColumnError, match="first table has no column start_s"):
        agree(timeless, whole, MEASURE)
    with pytest.raises(ColumnError, match="strides need a column start_s in both tables"):
        agree(timeless, timeless, MEASURE)


def test_only_numbers_are_compared() -> None:
    whole = strides(2, 1)
    worded = whole.assign(**{MEASURE: whole[MEASURE].astype(object).where(whole.index != 4, "x")})
    with pytest.raises(ColumnError, match="'x' in row 5 of the second table is no number"):
        agree(whole, worded, MEASURE)
    with pytest.raises(ColumnError, match="'True' in row 1 of the first table is no number"):
        agree(*2 * [whole.assign(turning=True)], "turning")
    with pytest.raises(ColumnError, match=r"start_s: .* of the first table is no number"):
        agree(whole.assign(start_s="2026-03-14T10:00:00"), whole, MEASURE)
    findings = bouts(3, 1).assign(finding="rotates")
    with pytest.raises(ColumnError, match="'rotates' in row 1 of the first table is no number"):
        agree(findings, findings, "finding")
    endless = bouts(3, 1).assign(measure="yaw", value=float("inf"))
    with pytest.raises(ColumnError, match="'inf' in row 1 of the first table is no number"):
        agree(endless, endless, "yaw")


def test_no_pair_is_an_error_that_says_why() -> None:
    whole = strides(2, 1)
    with pytest.raises(ColumnError, match=r"same participant, session, bout .* P0 / 1 / b, .* z$"):
        agree(whole, whole.assign(bout="z"), MEASURE)
    none = whole.assign(kept_yaw="false")
    with pytest.raises(ColumnError, match=r"second table has no stride that counts \(kept_yaw\)"):
        agree(whole, none, MEASURE)
    named = bouts(3, 1).rename(columns={"value": "yaw"})
    with pytest.raises(ColumnError, match="no row has the same participant, bout"):
        agree(named, named.assign(bout="z"), "yaw")


def test_too_few_pairs_give_no_limits() -> None:
    a = bouts(2, 1).rename(columns={"value": "yaw"})
    found = agree(a, a, "yaw")
    assert found.limits is None
    assert found.icc_because == "fewer_than_10_persons"


@pytest.mark.parametrize("name", ["participant", "session"])
def test_persons_that_the_other_table_does_not_name_are_not_mixed(name: str) -> None:
    rows = {"start_s": [1.0, 2.1, 3.2] * 2, "yaw": [9.0, 8.0, 9.5] * 2}
    named = pd.DataFrame({name: ["A"] * 3 + ["B"] * 3, **rows})
    one = named[named[name] == "A"]
    with pytest.raises(ColumnError, match=f"no column {name}, but the first holds 2"):
        agree(named, pd.DataFrame(rows), "yaw")
    with pytest.raises(ColumnError, match=f"no column {name}, but the second holds 2"):
        agree(pd.DataFrame(rows), named, "yaw")
    assert agree(one, one.drop(columns=name), "yaw").a.size == 3


@pytest.mark.parametrize(("later_s", "warned"), [(0.0, False), (0.03, False), (-0.2, True)])
def test_clocks_that_differ_are_told(later_s: float, warned: bool) -> None:
    a = pd.DataFrame({"start_s": 1.1 * np.arange(20), "yaw": np.linspace(8, 10, 20)})
    found = agree(a, a.assign(start_s=a["start_s"] + later_s), "yaw")
    assert found.later_s == pytest.approx(later_s)
    assert found.later_sd_s == pytest.approx(0.0, abs=1e-9)
    assert any("clocks of the two tables differ" in line for line in lines(found)) is warned


def walk(n: int = 60, seed: int = 4) -> pd.DataFrame:
    """Strides in passes of ten whose times vary by 20 ms, with contacts told to 5 ms."""
    rng = np.random.default_rng(seed)
    gaps = np.where(np.arange(n) % 10 == 0, 3.0, 0.0)
    starts = np.cumsum(1.08 + rng.normal(0, 0.02, n) + gaps)
    return pd.DataFrame({"bout": "b", "start_s": starts, "yaw": rng.normal(9.0, 1.0, n)})


def seen(table: pd.DataFrame, later_s: float = 0.0, seed: int = 6) -> pd.DataFrame:
    noise = np.random.default_rng(seed).normal(0, 0.005, len(table))
    return table.assign(start_s=table["start_s"] + noise + later_s)


@pytest.mark.parametrize("later_s", [1.08, -1.08, 2.15])
def test_clocks_apart_by_whole_strides_are_told(later_s: float) -> None:
    """The median of the starts is nearly 0 just then, so it tells nothing."""
    found = agree(walk(), seen(walk(), later_s), "yaw")
    assert abs(found.later_s) < 0.05
    assert found.shift_s == pytest.approx(later_s, abs=0.005)
    way = "later" if later_s > 0 else "earlier"
    assert any(f"{abs(found.shift_s):.3f} s {way}" in line for line in lines(found))


@pytest.mark.parametrize("n", [20, 40, 200])
def test_true_partners_are_not_taken_for_neighbours(n: int) -> None:
    for seed in range(40):
        found = agree(walk(n, seed), seen(walk(n, seed), seed=seed + 100), "yaw")
        assert np.isnan(found.shift_s)


def test_angles_are_compared_the_short_way_round() -> None:
    rng = np.random.default_rng(3)
    n, name = 200, "sternum_yaw_phase_deg"
    angles, noise = rng.normal(0.0, 20.0, n), rng.normal(0.0, 2.0, n)
    a = pd.DataFrame({"start_s": 1.1 * np.arange(n), name: np.mod(angles, 360.0)})
    b = a.assign(**{name: np.mod(angles + 4.0 + noise, 360.0)})
    found = agree(a, b, name)
    assert found.limits is not None
    assert found.limits.bias.value == pytest.approx(-np.mean(4.0 + noise))
    assert found.limits.sd == pytest.approx(np.std(noise, ddof=1))
    assert found.rmse == pytest.approx(np.sqrt(np.mean((4.0 + noise) ** 2)))
    assert np.ptp(found.b) < 180.0  # one cloud in the picture
    assert np.isnan([found.proportional.value, found.icc_agreement.value]).all()
    assert (found.circular, found.icc_because) == (True, "angles_on_a_circle")
    said = "\n".join(lines(found))
    assert "short way round" in said
    assert "slope on the mean" not in said


def test_angles_half_a_circle_apart_are_so_whichever_way() -> None:
    name = "arm_sternum_phase"
    spread = np.linspace(-8.0, 8.0, 17)
    rows = {"participant": [f"P{k}" for k in range(17)], "measure": name, "value": 0.0}
    a = pd.DataFrame({**rows, "value": np.mod(178.0 + spread + 180.0, 360.0) - 180.0})
    found = agree(a, pd.DataFrame(rows), name)
    assert found.limits is not None
    assert found.limits.bias.value == pytest.approx(178.0)
    assert found.limits.sd == pytest.approx(np.std(spread, ddof=1))
    assert found.rmse == pytest.approx(
        np.sqrt(np.mean(np.minimum(178.0 + spread, 182.0 - spread) ** 2))
    )


def test_angles_that_differ_all_around_have_no_limits() -> None:
    name = "sternum_yaw_phase_deg"
    a = pd.DataFrame({"start_s": 1.1 * np.arange(36), name: np.arange(0.0, 360.0, 10.0)})
    found = agree(a, a.assign(**{name: 0.0}), name)
    assert found.limits is None
    assert any("all around the circle" in line for line in lines(found))


def test_icc_is_over_persons_not_over_their_bouts() -> None:
    """Two persons' six bouts each are two persons; twelve persons' are twelve."""

    def systems(n_persons: int) -> list[pd.DataFrame]:
        rng = np.random.default_rng(1)
        who = [(f"P{k}", str(bout)) for k in range(n_persons) for bout in range(6)]
        truth = rng.normal(9.0, 2.0, n_persons).repeat(6) + rng.normal(0, 0.5, len(who))
        names = pd.DataFrame(who, columns=["participant", "bout"])
        return [names.assign(yaw=truth + rng.normal(0, 0.5, len(who))) for _ in range(2)]

    few = agree(*systems(2), "yaw")
    assert few.icc_because == "fewer_than_10_persons"
    assert np.isnan(few.icc_agreement.value)
    found = agree(*systems(12), "yaw")
    means = [table.groupby("participant")["yaw"].mean().to_numpy() for table in systems(12)]
    persons = [pd.DataFrame({"participant": range(12), "yaw": values}) for values in means]
    alone = agree(*persons, "yaw")
    assert found.icc_agreement.value == pytest.approx(alone.icc_agreement.value)
    assert found.icc_agreement.low == pytest.approx(alone.icc_agreement.low)
    assert "ICC over 12 persons, of each one's mean." in lines(found)
