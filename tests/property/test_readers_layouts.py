"""Whatever layout a program writes samples in, the same samples are read back."""

from __future__ import annotations

import tempfile
from dataclasses import replace
from pathlib import Path

import numpy as np
from fuzz_layouts import (
    ACC_UNITS,
    ENCODINGS,
    GYR_UNITS,
    HEADERS,
    NEWLINES,
    SEPARATORS,
    TIME_KINDS,
    FileLayout,
    invented_motion,
    sensible,
    written_bytes,
)
from hypothesis import given, settings
from hypothesis import strategies as st

from imucarry.readers.recording import read_recording

LAYOUTS = st.builds(
    FileLayout,
    separator=st.sampled_from(SEPARATORS),
    decimal=st.sampled_from(".,"),
    encoding=st.sampled_from(ENCODINGS),
    newline=st.sampled_from(NEWLINES),
    header=st.sampled_from(HEADERS),
    units_row=st.booleans(),
    acc_unit=st.sampled_from(sorted(ACC_UNITS)),
    gyr_unit=st.sampled_from(sorted(GYR_UNITS)),
    time=st.sampled_from(TIME_KINDS),
    time_last=st.booleans(),
    gyr_first=st.booleans(),
    metadata=st.sampled_from([(), ("Made by: nobody", "Serial;12,5"), ("# 1,2,3",)]),
    sep_line=st.booleans(),
    trailing=st.booleans(),
    empty_column=st.booleans(),
    quoted=st.booleans(),
    thousands=st.booleans(),
    packed=st.booleans(),
    nul_tail=st.booleans(),
    final_newline=st.booleans(),
).map(sensible)


@settings(max_examples=150, deadline=None, derandomize=True)
@given(layout=LAYOUTS, seed=st.integers(0, 50), rate_hz=st.sampled_from([50.0, 100.0, 128.0]))
def test_any_layout_reads_back(layout: FileLayout, seed: int, rate_hz: float) -> None:
    motion = invented_motion(300, rate_hz, seed)
    if rate_hz == 128.0 and layout.time in ("ms", "epoch_ms", "day", "iso", "iso_z", "iso_mixed"):
        # Whole milliseconds round a step of 7.8 ms: still even, on a clock a little off.
        motion = replace(motion, time_s=np.round(motion.time_s, 3))
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "chest.csv"
        path.write_bytes(written_bytes(motion, layout))
        recording = read_recording([path], "chest")
    # Without a last line end, a last cell shorter than all others may be cut: left out.
    n_rows = recording.time_s.size
    assert n_rows == 300 or (n_rows == 299 and not layout.final_newline)
    np.testing.assert_allclose(recording.acc_mps2, motion.acc[:n_rows], atol=2e-5)
    np.testing.assert_allclose(recording.gyr_radps, motion.gyr[:n_rows], atol=2e-5)
    # Half a millisecond of rounding at either end.
    np.testing.assert_allclose(recording.time_s, motion.time_s[:n_rows], atol=0.0011)
