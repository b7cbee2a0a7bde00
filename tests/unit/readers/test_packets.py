"""Rows that share their times: copies are left out, samples stay, losses are told."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest
from fuzz_layouts import invented_motion

from imucarry.readers.packets import rows_twice, short_packets
from imucarry.readers.recording import read_recording
from imucarry.readers.timebase import sample_times

Writer = Callable[..., Path]
AXES = [f"{kind}_{axis}" for kind in ("acc", "gyr") for axis in "xyz"]
N = 3000
PERIOD_S = 0.02
TRUE = np.arange(N) * PERIOD_S


def packets(size: int) -> np.ndarray:
    return TRUE[np.arange(N) // size * size]


def coarse() -> np.ndarray:
    """Six axes in steps so coarse that neighbours are often equal."""
    angles = np.outer(TRUE, (3.0, 4.0, 5.0, 2.0, 1.0, 6.0)) + np.arange(6)
    return np.round(np.sin(angles) * (TRUE > 20)[:, np.newaxis], 1)


@pytest.mark.parametrize("size", [2, 10, 50])
def test_equal_rows_of_a_packet_are_samples(size: int) -> None:
    values = coarse()
    assert (values[1:] == values[:-1]).all(axis=1).sum() > N / 10
    assert not rows_twice(packets(size), values).any()


@pytest.mark.parametrize("size", [2, 10, 50])
@pytest.mark.parametrize("how", ["whole", "row by row"])
def test_a_packet_written_twice_is_left_out_once(size: int, how: str) -> None:
    rows = np.arange(N)
    packet = np.arange(2000, 2000 + size)
    again = np.repeat(packet, 2) if how == "row by row" else np.tile(packet, 2)
    rows = np.concatenate([rows[:2000], again, rows[2000 + size :]])
    twice = rows_twice(packets(size)[rows], coarse()[rows])
    np.testing.assert_array_equal(rows[~twice], np.arange(N))


@pytest.mark.parametrize("size", [4, 10])
@pytest.mark.parametrize(("first", "last"), [(2000, 2100), (2003, 2061)])
def test_packets_sent_again_are_left_out(size: int, first: int, last: int) -> None:
    rows = np.concatenate([np.arange(last), np.arange(first, N)])
    twice = rows_twice(packets(size)[rows], coarse()[rows])
    np.testing.assert_array_equal(rows[~twice], np.arange(N))


def test_a_file_of_packets_written_twice_as_a_whole() -> None:
    rows = np.repeat(np.arange(N), 2)
    twice = rows_twice(packets(10)[rows], coarse()[rows])
    assert twice.sum() == pytest.approx(N, abs=10)


def test_without_packets_a_row_with_time_and_values_of_another_is_a_copy() -> None:
    rows = np.sort(np.concatenate([np.arange(N), [100, 101, 2000]]))
    twice = rows_twice(TRUE[rows], coarse()[rows])
    np.testing.assert_array_equal(rows[~twice], np.arange(N))
    assert rows_twice(TRUE, coarse()) is None


@pytest.mark.parametrize(("first", "n_lost"), [(1000, 30), (1010, 30), (1025, 40), (1003, 12)])
def test_a_packet_that_lost_samples_is_a_hole(first: int, n_lost: int) -> None:
    kept = np.delete(np.arange(N), np.arange(first, first + n_lost))
    times = sample_times(packets(50)[kept], None, None, "f.csv")
    assert [code for code, _ in times.found] == ["short_packets", "packets", "lost_samples"]
    assert f"about {n_lost} samples are missing" in times.found[-1][1]
    assert times.rows is not None
    error = times.time_s - TRUE[kept][times.rows]
    assert np.ptp(error) < 0.05
    assert np.diff(times.time_s).max() > n_lost * PERIOD_S


def test_packets_that_come_late_or_in_pieces_lost_nothing() -> None:
    rng = np.random.default_rng(4)
    late = np.repeat(TRUE[9::10] + rng.exponential(0.05, N // 10), 10)
    assert short_packets(late, PERIOD_S) == (None, 0)
    late[1000:1003] -= 0.001  # one packet in two pieces
    assert short_packets(late, PERIOD_S) == (None, 0)
    sizes = rng.integers(3, 18, 200)
    ends = np.minimum(np.cumsum(sizes), N) - 1
    varied = np.repeat(TRUE[ends], np.diff(np.concatenate([[0], ends + 1])))
    assert short_packets(varied, PERIOD_S) == (None, 0)


def test_nothing_is_said_of_a_late_start_where_the_first_row_has_a_sample(
    write_columns: Writer,
) -> None:
    """The even clock of packets that begin with few samples begins late; the file does not."""
    motion = invented_motion(3000)
    axes = np.round(np.hstack([motion.acc, motion.gyr]), 2)
    row = np.arange(3000)
    kept = np.flatnonzero((row > 800) | (row % 10 == 0))
    columns = {"time_s": (row // 10 / 10.0)[kept]}
    columns |= {name: axes[kept, k] for k, name in enumerate(AXES)}
    recording = read_recording([write_columns("chest.csv", columns)], "chest")
    assert "packets" in {notice.code for notice in recording.notices}
    assert "starts_late" not in {notice.code for notice in recording.notices}
