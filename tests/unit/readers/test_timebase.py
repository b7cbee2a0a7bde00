"""Stamps to times of samples."""

from __future__ import annotations

import numpy as np
import pytest

from imucarry.basics.errors import TimebaseError
from imucarry.readers.timebase import SampleTimes, sample_times

N = 3000
TRUE = np.arange(N) / 100.0


def codes(times: SampleTimes) -> list[str]:
    return [code for code, _ in times.found]


def read(stamps: np.ndarray, **known: np.ndarray | None) -> SampleTimes:
    return sample_times(stamps, known.get("counts"), known.get("repeated"), "f.csv")


def test_even_stamps_stay() -> None:
    times = read(TRUE)
    assert times.is_even
    assert times.rows is None
    np.testing.assert_allclose(times.time_s, TRUE, atol=1e-12)


def test_rounded_stamps_are_even() -> None:
    times = read(np.round(np.arange(N) / 104.0, 3))
    assert times.is_even
    # Two ends rounded to 1 ms, 29 s apart.
    assert 1 / times.period_s == pytest.approx(104.0, rel=4e-5)


def test_true_stamps_of_uneven_samples_are_kept() -> None:
    rng = np.random.default_rng(1)
    stamps = np.cumsum(rng.uniform(0.004, 0.016, N))
    times = read(stamps)
    np.testing.assert_array_equal(times.time_s, stamps)


def test_late_stamps_of_even_samples_are_spread() -> None:
    rng = np.random.default_rng(2)
    late = TRUE + rng.exponential(0.006, N)
    times = read(late)
    assert codes(times) == ["late_stamps"]
    error = times.time_s - TRUE
    assert np.std(error) < 0.001  # the mean delay stays: clocks are aligned later
    assert 1 / times.period_s == pytest.approx(100.0, rel=1e-3)


@pytest.mark.parametrize("size", [4, 10, 25])
def test_packets_share_one_time(size: int) -> None:
    stamps = np.repeat(TRUE[size - 1 :: size], size)[:N]
    times = read(stamps)
    assert codes(times) == ["packets"]
    assert np.std(times.time_s - TRUE[: times.time_s.size]) < 0.002
    assert 1 / times.period_s == pytest.approx(100.0, rel=1e-3)


def test_whole_seconds_are_packets() -> None:
    times = read(np.floor(np.arange(N) / 104.0))
    assert 1 / times.period_s == pytest.approx(104.0, rel=2e-3)


def test_a_lost_packet_is_a_hole() -> None:
    stamps = np.repeat(TRUE[9::10], 10)
    kept = np.delete(np.arange(N), np.arange(1000, 1060))
    times = read(stamps[kept])
    assert codes(times) == ["packets", "lost_samples"]
    error = times.time_s - TRUE[kept]
    assert np.ptp(error) < 0.02
    assert np.diff(times.time_s)[999] == pytest.approx(0.61, abs=0.02)


def test_counter_tells_lost_samples_under_late_stamps() -> None:
    rng = np.random.default_rng(3)
    kept = np.sort(rng.choice(N, N - 40, replace=False))
    late = TRUE[kept] + rng.exponential(0.006, kept.size)
    times = read(late, counts=kept - kept[0].astype(float))
    assert "lost_samples" in codes(times)
    assert np.std(times.time_s - TRUE[kept]) < 0.001


def test_rows_out_of_order_are_sorted() -> None:
    order = np.arange(N)
    order[[700, 701]] = order[[701, 700]]
    times = read(TRUE[order])
    assert codes(times) == ["rows_out_of_order"]
    np.testing.assert_array_equal(times.rows, order)
    np.testing.assert_array_equal(times.time_s, TRUE)


def test_shuffled_rows_of_even_times_are_put_in_order() -> None:
    order = np.random.default_rng(5).permutation(N)
    times = read(TRUE[order])
    assert codes(times) == ["rows_shuffled"]
    np.testing.assert_allclose(times.time_s, TRUE, atol=1e-9)
    np.testing.assert_array_equal(order[times.rows], np.arange(N))


def test_shuffled_rows_with_holes_and_copies_are_put_in_order() -> None:
    kept = np.delete(np.arange(N), np.arange(1000, 1200))
    order = np.random.default_rng(5).permutation(np.append(kept, 500))
    repeated = np.zeros(order.size, dtype=bool)
    repeated[np.flatnonzero(order == 500)[1]] = True
    times = read(TRUE[order], repeated=repeated)
    assert codes(times) == ["rows_shuffled", "rows_twice"]
    np.testing.assert_array_equal(order[times.rows], kept)


@pytest.mark.parametrize("stamps", [np.floor(TRUE), np.cumsum(np.tile([0.004, 0.016], N // 2))])
def test_shuffled_rows_whose_times_do_not_tell_the_order_are_refused(stamps: np.ndarray) -> None:
    order = np.random.default_rng(5).permutation(N)
    with pytest.raises(TimebaseError, match="go up and down from row to row"):
        read(stamps[order])


def test_rows_written_twice_are_left_out() -> None:
    rows = np.sort(np.concatenate([np.arange(N), [100, 2000]]))
    repeated = np.concatenate([[False], np.diff(rows) == 0])
    times = read(TRUE[rows], repeated=repeated)
    assert codes(times) == ["rows_twice"]
    np.testing.assert_allclose(times.time_s, TRUE, atol=1e-9)


def test_a_stray_time_is_left_out() -> None:
    stamps = TRUE.copy()
    stamps[1500] = 9e9
    times = read(stamps)
    assert codes(times) == ["stray_times"]
    assert times.time_s.size == N - 1


def test_a_clock_that_was_set_back_runs_on() -> None:
    stamps = TRUE.copy()
    stamps[1500:] -= 3600.0
    times = read(stamps)
    assert codes(times) == ["clock_set_back"]
    np.testing.assert_allclose(times.time_s, TRUE, atol=1e-6)


@pytest.mark.parametrize("back_s", [0.03, 0.05, 0.3, 0.507, 0.9])
def test_a_clock_that_was_set_back_by_little_runs_on(back_s: float) -> None:
    stamps = TRUE.copy()
    stamps[1500:] -= back_s
    times = read(stamps)
    assert codes(times) == ["clock_set_back"]
    np.testing.assert_allclose(times.time_s, TRUE, atol=1e-6)


@pytest.mark.parametrize("length", [1, 2, 10, 50])
def test_a_block_of_rows_that_comes_late_is_put_in_order(length: int) -> None:
    rows = np.arange(N)
    rows[1000 : 1000 + 2 * length] = np.roll(rows[1000 : 1000 + 2 * length], length)
    times = read(TRUE[rows])
    assert codes(times) == ["rows_out_of_order"]
    np.testing.assert_allclose(times.time_s, TRUE, atol=1e-6)
    np.testing.assert_array_equal(rows[times.rows], np.arange(N))


def test_a_block_that_was_sent_twice_is_left_out_once() -> None:
    rows = np.concatenate([np.arange(1020), np.arange(1000, N)])
    repeated = np.zeros(rows.size, dtype=bool)
    repeated[1020:1040] = True
    times = read(TRUE[rows], repeated=repeated)
    assert codes(times) == ["rows_twice"]
    np.testing.assert_allclose(times.time_s, TRUE, atol=1e-6)


def test_rows_without_time_are_left_out() -> None:
    stamps = TRUE.copy()
    stamps[:1000] = np.nan
    times = read(stamps)
    np.testing.assert_array_equal(times.rows, np.arange(1000, N))


@pytest.mark.parametrize("stamps", [np.zeros(50), np.array([0.0, 1.0]), np.full(9, np.nan)])
def test_times_that_tell_nothing_are_refused(stamps: np.ndarray) -> None:
    with pytest.raises(TimebaseError, match=r"f\.csv, time column: has "):
        read(stamps)


@pytest.mark.parametrize(("period_s", "packet"), [(1e-11, 1), (1e-11, 4), (9e-5, 1)])
def test_stamps_faster_than_any_sensor(period_s: float, packet: int) -> None:
    stamps = np.arange(N) // packet * packet * period_s
    stamps[N // 2 :] += 40.0
    with pytest.raises(TimebaseError, match="faster than any sensor samples") as caught:
        read(stamps)
    assert caught.value.where == "time column"
