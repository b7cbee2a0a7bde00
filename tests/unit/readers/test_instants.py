"""Columns of times: text and numbers, and counters that wrap."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest

from imucarry.basics.errors import TimebaseError
from imucarry.readers.instants import number_times, text_times, unwrapped
from imucarry.readers.row_cells import kind_of
from imucarry.readers.table import Table, TextColumn

EPOCH_S = 1_773_482_400.0  # 2026-03-14T10:00:00Z


def table_of_text(words: list[str]) -> Table:
    codes, unique = pd.factorize(pd.Series(words))
    text = {0: TextColumn(tuple(unique), codes)}
    return Table("f.csv", (), "", ("time",), ("",), np.full((len(words), 1), np.nan), text)


def table_of_numbers(values: list[float] | np.ndarray) -> Table:
    return Table("f.csv", (), "", ("time",), ("",), np.asarray(values, dtype=float)[:, np.newaxis])


def test_iso_with_missing_fractions_and_zone() -> None:
    times = text_times(
        table_of_text(
            ["2026-03-14T10:00:00Z", "2026-03-14T10:00:00.250Z", "2026-03-14T11:00:01+01:00"]
        ),
        0,
    )
    assert times.clock == "utc"
    assert times.start_s == pytest.approx(EPOCH_S)
    np.testing.assert_allclose(times.time_s, [0, 0.25, 1.0], atol=1e-6)


def test_iso_without_zone_is_local() -> None:
    times = text_times(table_of_text(["2026-03-14 10:00:00,5", "2026-03-14 10:00:01"]), 0)
    assert times.clock == "local"
    np.testing.assert_allclose(times.time_s, [0, 0.5], atol=1e-6)


def test_iso_with_a_lost_cell_keeps_the_others_exact() -> None:
    words = [f"2026-03-14T10:00:{second:02d}.125" for second in range(40)]
    table = table_of_text([words[0], "", *words[2:]])
    times = text_times(table, 0)
    assert np.isnan(times.time_s[1])
    assert times.time_s[39] == pytest.approx(39.0, abs=1e-6)


@pytest.mark.parametrize(
    ("words", "steps"),
    [
        (["23:59:59.9", "00:00:00.1"], [0.2]),
        (["11:59:59 PM", "12:00:01 AM"], [2.0]),
        (["00:59.5", "01:00.25"], [0.75]),
        (["14.03.2026 23:59:59.5", "15.03.2026 00:00:00.5"], [1.0]),
        (["9:00:00:250", "9:00:00:500"], [0.25]),
    ],
)
def test_time_of_day_runs_across_midnight(words: list[str], steps: list[float]) -> None:
    times = text_times(table_of_text(words), 0)
    assert times.clock == "day"
    np.testing.assert_allclose(np.diff(times.time_s), steps, atol=1e-9)


def test_text_that_is_no_time_names_the_cell() -> None:
    with pytest.raises(TimebaseError, match=r"f\.csv, line 2, column time: 'later' is no time"):
        text_times(table_of_text(["10:00:00", "later", "sooner"]), 0)


@pytest.mark.parametrize(("unit", "scale"), [("s", 1.0), ("ms", 1e3), ("us", 1e6), ("ns", 1e9)])
@pytest.mark.parametrize("start", [0.0, EPOCH_S])
def test_unit_is_told_by_size(unit: str, scale: float, start: float) -> None:
    stamps = np.round((start + np.arange(500) / 100.0) * scale, 3 if scale == 1 else 0)
    times = number_times(table_of_numbers(stamps), 0, "")
    assert times.unit == unit
    assert times.clock == ("utc" if start else "elapsed")
    np.testing.assert_allclose(times.time_s, np.arange(500) / 100.0, atol=1e-6)


def test_elapsed_nanoseconds_of_the_size_of_an_epoch() -> None:
    stamps = 1_700_000_000 + 10_000_000.0 * np.arange(300)
    times = number_times(table_of_numbers(stamps), 0, "")
    assert (times.unit, times.clock) == ("ns", "elapsed")


def test_stated_unit_goes_before_size() -> None:
    times = number_times(table_of_numbers(np.arange(100.0)), 0, "ms")
    assert times.time_s[-1] == pytest.approx(0.099)


def test_a_count_without_unit_asks() -> None:
    with pytest.raises(TimebaseError, match="its unit is not stated; state time_unit"):
        number_times(table_of_numbers(np.arange(100.0)), 0, "")


@pytest.mark.parametrize("bits", [8, 16, 32])
@pytest.mark.parametrize("step", [1, 3])
def test_wrapped_counter_runs_on(bits: int, step: int) -> None:
    true = (2.0**bits - 50) + step * np.arange(1000)
    lost = np.delete(true, [7, 8, 9, 400])
    counts = np.mod(lost, 2.0**bits)
    np.testing.assert_array_equal(unwrapped(counts) - counts[0], lost - lost[0])


def test_wraps_many_times() -> None:
    true = np.arange(5000.0)
    np.testing.assert_array_equal(unwrapped(np.mod(true, 256)), true)


def test_steps_back_that_are_no_wrap_stay() -> None:
    stamps = np.concatenate([np.arange(0, 150, 0.01), np.arange(0, 50, 0.01)])
    np.testing.assert_array_equal(unwrapped(stamps), stamps)


@pytest.mark.parametrize(
    ("words", "clock"),
    [
        (["20260314T100000.010", "20260314T100000.260"], "local"),
        (["20260314T100000,010Z", "20260314T100000,260Z"], "utc"),
        (["20260314T110000.010+0100", "20260314T110000.260+0100"], "utc"),
        (["20260314T110000.010+01", "20260314T110000.260+01"], "utc"),
    ],
)
def test_compact_iso(words: list[str], clock: str) -> None:
    assert all(kind_of(word, ".") == "instant" for word in words)
    times = text_times(table_of_text(words), 0)
    assert times.clock == clock
    assert times.start_s == pytest.approx(EPOCH_S + 0.01)
    np.testing.assert_allclose(times.time_s, [0, 0.25], atol=1e-6)


@pytest.mark.parametrize(
    ("first_day", "since"), [(46095 + 10 / 24, "1899-12-30"), (740055 + 10 / 24, "year 0")]
)
@pytest.mark.parametrize("rate_hz", [15.0, 100.0, 1000.0])
def test_day_numbers(first_day: float, since: str, rate_hz: float) -> None:
    elapsed = np.arange(3000) / rate_hz
    times = number_times(table_of_numbers(first_day + elapsed / 86400), 0, "")
    assert times.clock == "local"
    assert times.rule == f"days since {since}, told by size"
    assert times.start_s == pytest.approx(EPOCH_S, abs=1e-4)
    np.testing.assert_allclose(times.time_s, elapsed, atol=2e-5)  # a double of 7e5 days: 10 us


@pytest.mark.parametrize(("step", "unit"), [(0.01, "s"), (10.0, "ms"), (1e4, "us"), (1e7, "ns")])
def test_numbers_of_the_size_of_days_that_step_like_seconds(step: float, unit: str) -> None:
    times = number_times(table_of_numbers(46095.25 + step * np.arange(300)), 0, "")
    assert (times.clock, times.unit) == ("elapsed", unit)


@pytest.mark.parametrize("step", [1.0, 1e-5, 1e-9])
def test_numbers_of_the_size_of_days_that_step_like_nothing(step: float) -> None:
    with pytest.raises(TimebaseError, match="its unit is not stated"):
        number_times(table_of_numbers(46095.25 + step * np.arange(300)), 0, "")


@pytest.mark.parametrize(("first", "clock"), [(46095.25, "local"), (0.125, "elapsed")])
def test_days_that_are_stated(first: float, clock: str) -> None:
    times = number_times(table_of_numbers(first + np.arange(300) / 86400 / 100), 0, "d")
    assert times.clock == clock
    np.testing.assert_allclose(times.time_s, np.arange(300) / 100, atol=1e-6)


def test_a_stated_unit_is_no_day_number() -> None:
    stamps = 46095.25 + np.arange(300) / 86400 / 100
    assert number_times(table_of_numbers(stamps), 0, "s").clock == "elapsed"


@pytest.mark.parametrize("form", ["%Y%m%d%H%M%S%f", "%Y%m%d%H%M%S"])
def test_dates_in_figures_alone_are_refused(form: str) -> None:
    times = pd.date_range("2026-03-04T10:59:58", periods=500, freq="10ms")
    figures = [float(time.strftime(form)[:17]) for time in times]
    with pytest.raises(TimebaseError, match="holds dates and times in figures alone"):
        number_times(table_of_numbers(figures), 0, "")


def test_a_count_that_looks_like_a_date_at_first_is_a_count() -> None:
    counts = 20_260_304_105_900.0 + 10_000.0 * np.arange(500)
    assert number_times(table_of_numbers(counts), 0, "us").time_s[-1] == pytest.approx(4.99)
