"""A session folder, or the path of its ``session.toml``, to a `Session`."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

import numpy as np

from imucarry.basics.errors import SessionError, TimebaseError
from imucarry.basics.evidence import readers as evidence
from imucarry.basics.records import BoutRow, Notice, Recording, Session
from imucarry.basics.settings import ReaderSettings
from imucarry.readers.entries import SensorEntry, SessionPlan
from imucarry.readers.formats import read_table
from imucarry.readers.halves import told_once
from imucarry.readers.instants import past_midnight
from imucarry.readers.plan import read_plan
from imucarry.readers.recording import SensorReading, TableReader, read_sensor
from imucarry.readers.rom_sheet import read_rom
from imucarry.readers.sheet_notices import heavy_loads
from imucarry.readers.sheets import Clock, read_bouts
from imucarry.readers.shown import without_folders
from imucarry.readers.source import sha256_of
from imucarry.readers.table import Table
from imucarry.readers.windows import checked_windows


def read_session(path: Path, settings: ReaderSettings | None = None) -> Session:
    """Read one person's visit.

    Parameters
    ----------
    path : Path
        A folder, or the path of its ``session.toml``.
    settings : ReaderSettings, optional

    Raises
    ------
    SessionError
        If the session file or a sheet is wrong.
    InputError
        If a sensor's file cannot be used.
    """
    settings = settings or ReaderSettings()
    plan = read_plan(path)
    reader = _cached(plan)
    readings = [
        read_sensor([plan.path(name) for name in entry.files], entry, settings, reader)
        for entry in plan.sensors
    ]
    recordings, clock, notices = from_the_earliest(readings, plan.sensors)
    recordings, halves = told_once(recordings)
    _require_overlap(recordings)
    bout_rows, odd = _bout_rows(plan, recordings, clock)
    rom = read_rom(plan.path(plan.rom), plan.rom) if plan.rom else ()
    session = Session(
        participant=plan.participant,
        session=plan.session,
        recordings=tuple(recordings),
        date=plan.date,
        body_mass_kg=plan.body_mass_kg,
        height_m=plan.height_m,
        lane_m=plan.lane_m,
        bout_rows=bout_rows,
        rom=rom,
        input_sha256=_hashes(plan, readings),
        notices=(*plan.notices, *notices, *halves, *_same_samples(recordings), *odd),
        bouts_file=plan.bouts,
        rom_file=plan.rom,
    )
    return without_folders(session)


def _cached(plan: SessionPlan) -> TableReader:
    """Return a reader that parses a file once when several sensors are in it."""
    names = [name for entry in plan.sensors for name in entry.files]
    shared = {name for name in names if names.count(name) > 1}
    known: dict[str, Table] = {}

    def read(path: Path, name: str) -> Table:
        if name not in shared:
            return read_table(path, name)
        if name not in known:
            known[name] = read_table(path, name)
        return known[name]

    return read


def from_the_earliest(
    readings: Sequence[SensorReading], entries: Sequence[SensorEntry]
) -> tuple[list[Recording], Clock, list[Notice]]:
    """Put recordings on the session clock: 0 is the first sample of the earliest sensor."""
    clocks = {reading.clock for reading in readings}
    starts = [reading.start_s for reading in readings]
    notices = []
    kind = readings[0].clock
    if len(clocks) > 1:
        starts = [0.0] * len(readings)
        if any(np.isnan([entry.clock_offset_s, entry.event_s]).all() for entry in entries):
            message = (
                f"the sensors' clocks differ in kind ({', '.join(sorted(clocks))}); they were taken"
                " to start together"
            )
            notices.append(Notice("clocks_differ", message, severity="check"))
    elif kind == "day":
        starts = past_midnight(starts)
    starts = _set_by_event(starts, readings, entries)
    zero = min(starts)
    recordings = []
    for reading, entry, start in zip(readings, entries, starts, strict=True):
        offset = 0.0 if np.isnan(entry.clock_offset_s) else entry.clock_offset_s
        shift = start - zero + offset
        recording = reading.recording
        if shift:
            recording = replace(recording, time_s=recording.time_s + shift)
        recordings.append(recording)
    return recordings, Clock(kind if len(clocks) == 1 else "elapsed", zero), notices


def _set_by_event(
    starts: Sequence[float], readings: Sequence[SensorReading], entries: Sequence[SensorEntry]
) -> list[float]:
    """Return the starts, those that state a shared event set by it.

    The clock of the chest, else of the first sensor, leads.
    """
    stated = [not np.isnan(entry.event_s) for entry in entries]
    if not any(stated):
        return list(starts)
    for index, (reading, entry) in enumerate(zip(readings, entries, strict=True), 1):
        length_s = float(reading.recording.time_s[-1] - reading.recording.time_s[0])
        if not np.isnan(entry.event_s) and not 0.0 <= entry.event_s <= length_s:
            raise SessionError(
                f"event_s is {entry.event_s:g}, but the {entry.placement} file holds 0 to"
                f" {length_s:.1f} s; count from its first sample",
                file="session.toml",
                where=f"sensor {index}",
            )
    placements = [entry.placement for entry in entries]
    leader = placements.index("chest") if "chest" in placements else 0
    if not stated[leader]:
        raise SessionError(
            f"event_s is stated, but not for the {placements[leader]} sensor, on whose clock "
            "the session runs; state it there too",
            file="session.toml",
            where=f"sensor {leader + 1}",
        )
    event = starts[leader] + entries[leader].event_s
    return [
        event - entry.event_s if is_stated else start
        for start, entry, is_stated in zip(starts, entries, stated, strict=True)
    ]


def _same_samples(recordings: Sequence[Recording]) -> list[Notice]:
    """Tell of one recording that stands for two placements."""
    notices = []
    for first, second in itertools.combinations(recordings, 2):
        if np.array_equal(first.acc_mps2[:100], second.acc_mps2[:100]) and np.array_equal(
            first.gyr_radps, second.gyr_radps
        ):
            message = (
                f"the {second.placement} sensor holds the same samples as the {first.placement}"
                f" sensor ({first.readings[0].file}): one of the two files is the wrong one"
            )
            file = second.readings[0].file
            notices.append(Notice("same_samples", message, file=file, severity="check"))
    return notices


def _require_overlap(recordings: Sequence[Recording]) -> None:
    for first, second in itertools.combinations(recordings, 2):
        shared = min(first.time_s[-1], second.time_s[-1]) - max(first.time_s[0], second.time_s[0])
        if shared < evidence.NO_OVERLAP_S.value:
            raise TimebaseError(
                f"{first.placement} ({_span(first)}) and {second.placement} ({_span(second)}) never"
                " overlap; check the clocks (and time zones), event_s or clock_offset_s in"
                " session.toml",
                file=second.readings[0].file,
                where="time column",
            )


def _span(recording: Recording) -> str:
    return f"{recording.time_s[0]:.1f} to {recording.time_s[-1]:.1f} s"


def _bout_rows(
    plan: SessionPlan, recordings: Sequence[Recording], clock: Clock
) -> tuple[tuple[BoutRow, ...] | None, list[Notice]]:
    if not plan.bouts:
        return None, []
    rows, odd = read_bouts(plan.path(plan.bouts), plan.bouts, clock=clock)
    if not rows:
        raise SessionError(
            "lists no bout; write one row a bout, or leave the sheet out: walking is then found",
            file=plan.bouts,
            where="line 2",
        )
    start = min(float(recording.time_s[0]) for recording in recordings)
    end = max(float(recording.time_s[-1]) for recording in recordings)
    rows, clips = checked_windows(rows, start, end, plan.bouts)
    return rows, [*odd, *heavy_loads(rows, plan.body_mass_kg, plan.bouts), *clips]


def _hashes(plan: SessionPlan, readings: Sequence[SensorReading]) -> tuple[tuple[str, str], ...]:
    found = {pair for reading in readings for pair in reading.hashes}
    for name in (plan.toml, plan.bouts, plan.rom):
        if name:
            found.add((name, sha256_of(plan.path(name), name)))
    if not found:
        raise SessionError("lists no input", file=plan.toml or str(plan.folder))
    return tuple(sorted(found))
