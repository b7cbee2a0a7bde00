"""Rows that share their times: rows written twice, and packets that lost samples."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from imucarry.basics.evidence import readers as evidence
from imucarry.basics.records import BoolArray, FloatArray, IntArray
from imucarry.readers.late import rises


@dataclass(frozen=True, slots=True)
class Packets:
    """Runs of rows that follow each other with one time: first row and number of rows of each."""

    first: IntArray
    size: IntArray

    def of_row(self) -> IntArray:
        """Return the run that each row is in."""
        return np.repeat(np.arange(self.first.size), self.size)


def packets_of(stamps_s: FloatArray) -> Packets:
    """Cut rows into runs of one time."""
    first = np.flatnonzero(np.concatenate([[True], np.diff(stamps_s) != 0]))
    return Packets(first, np.diff(np.append(first, stamps_s.size)))


def rows_twice(stamps_s: FloatArray, values: FloatArray) -> BoolArray | None:
    """Return where a row was written before, None where no time comes twice.

    Parameters
    ----------
    stamps_s : ndarray, shape (N,) [s]
        NaN where a row has no time.
    values : ndarray, shape (N, K)
        All numbers of the rows.

    Notes
    -----
    1. A row with the time and the numbers of one before it is a copy,
    2. but where many times are shared by different rows, samples came in packets. Equal rows of
       one packet then are samples; copies are those of a packet that came before, and the second
       half of a packet written twice.
    """
    known = np.flatnonzero(~np.isnan(stamps_s))
    if (np.diff(stamps_s[known]) > 0).all():
        return None
    twice = np.zeros(stamps_s.size, dtype=np.bool_)
    rows = np.column_stack([stamps_s, values])[known]
    order = np.argsort(rows[:, 0], kind="stable")
    earlier = np.full(known.size, -1)
    same = (rows[order[1:]] == rows[order[:-1]]).all(axis=1)
    earlier[order[1:][same]] = order[:-1][same]
    if _in_packets(rows[:, 0], earlier >= 0):
        twice[known] = _copied_packets(rows)
    else:
        twice[known] = earlier >= 0
    return twice


def _in_packets(stamps_s: FloatArray, is_copy: BoolArray) -> bool:
    """Whether many times are shared by rows that differ."""
    packets = packets_of(stamps_s)
    least = evidence.SHARED_STAMPS_FRAC.value
    if stamps_s.size - packets.size.size <= least * stamps_s.size:
        return False
    n_different = np.bincount(packets.of_row()[~is_copy], minlength=packets.size.size)
    return bool((n_different[packets.size > 1] > 1).mean() > least)


def _copied_packets(rows: FloatArray) -> BoolArray:
    """Return the rows of packets that came before, and of the second half of those doubled."""
    packets = packets_of(rows[:, 0])
    of_row = packets.of_row()
    copied = _came_before(rows, of_row)
    fresh = ~np.isin(np.arange(packets.size.size), of_row[copied])
    doubled, second = _doubled(rows, packets)
    if doubled[fresh & (packets.size > 1)].mean() < evidence.ALL_DOUBLED_FRAC.value:
        usual = np.median(packets.size[fresh & ~doubled])
        doubled &= packets.size >= evidence.DOUBLED_PACKET.value * usual
    return np.asarray(copied | (second & doubled[of_row]))


def _came_before(rows: FloatArray, of_row: IntArray) -> BoolArray:
    """Return the rows that are equal to one of an earlier packet of the same time."""
    came = np.zeros(len(rows), dtype=np.bool_)
    if (np.diff(rows[:, 0]) >= 0).all():
        return came
    order = np.lexsort((of_row, *rows.T[::-1]))
    differs = (rows[order[1:]] != rows[order[:-1]]).any(axis=1)
    starts = np.concatenate([[True], differs])
    first = of_row[order][np.flatnonzero(starts)][np.cumsum(starts) - 1]
    came[order] = of_row[order] > first
    return came


def _doubled(rows: FloatArray, packets: Packets) -> tuple[BoolArray, BoolArray]:
    """Return the packets written twice, as a whole or row by row, and their second rows."""
    of_row = packets.of_row()
    place = np.arange(len(rows)) - packets.first[of_row]
    half = packets.size // 2
    even = packets.size % 2 == 0
    second = np.zeros(len(rows), dtype=np.bool_)
    doubled = np.zeros(packets.size.size, dtype=np.bool_)
    for is_second, back in (
        (place >= half[of_row], half[of_row]),
        (place % 2 == 1, np.ones(len(rows), dtype=np.int64)),
    ):
        at = np.flatnonzero(is_second & even[of_row])
        unlike = (rows[at] != rows[at - back[at]]).any(axis=1)
        mine = even & (np.bincount(of_row[at][unlike], minlength=even.size) == 0) & ~doubled
        doubled |= mine
        second |= is_second & mine[of_row]
    return doubled, second


def short_packets(stamps_s: FloatArray, period_s: float) -> tuple[BoolArray | None, int]:
    """Return the rows of packets that lost samples, and the number of these packets.

    Parameters
    ----------
    stamps_s : ndarray, shape (N,) [s]
        Of samples in packets, each with the time of its packet.
    period_s : float [s]

    Notes
    -----
    1. Only where packets hold a regular number of rows can one be short,
    2. by more than what would be bridged, with no times missing beside it, and so that the
       following rows stay late by what it lost. Where in the packet its samples were lost is not
       known.
    """
    packets = packets_of(stamps_s)
    if packets.size.size < evidence.LEAST_PACKETS.value:
        return None, 0
    usual = float(np.median(packets.size))
    uneven = np.abs(packets.size - usual) > max(1.0, evidence.PACKET_UNEVEN_FRAC.value * usual)
    if uneven.mean() > evidence.UNEVEN_PACKETS_FRAC.value:
        return None, 0
    steps_s = np.diff(stamps_s[packets.first])
    is_usual = np.abs(steps_s / np.median(steps_s) - 1.0) < 0.5
    lost = usual - packets.size
    short = lost * period_s > max(evidence.BRIDGED_GAP_S.value, period_s)
    short &= np.concatenate([[False], is_usual]) & np.concatenate([is_usual, [False]])
    at = np.flatnonzero(short)
    if not at.size:
        return None, 0
    lag = stamps_s - period_s * np.arange(stamps_s.size)
    width = max(round(4 * usual), round(0.5 / period_s))
    late_s = rises(lag, packets.first[at + 1], width)
    at = at[late_s > 0.5 * lost[at] * period_s]
    return (np.isin(packets.of_row(), at), at.size) if at.size else (None, 0)
