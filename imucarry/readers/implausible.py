"""Samples that no worn sensor measures: taken as missing, and said so."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from imucarry.basics.evidence import readers as evidence
from imucarry.basics.records import Notice
from imucarry.basics.words import counted
from imucarry.readers.parts import RawStream
from imucarry.readers.resample import Stream
from imucarry.readers.roles import KIND_NAMES


def without_absurd(
    stream: Stream, written: RawStream, unit_size: float
) -> tuple[Stream, list[Notice]]:
    """Leave out samples beyond what any worn sensor measures.

    Parameters
    ----------
    stream : Stream
        In SI units.
    written : RawStream
        The same as written in its file.
    unit_size : float
        Of one written unit, in SI units.
    """
    limit = evidence.ACC_MOST_MPS2 if stream.kind == "acc" else evidence.GYR_MOST_RADPS
    if written.largest * unit_size <= limit.value:
        return stream, []
    absurd = (np.abs(stream.values) > limit.value).any(axis=1)
    n_absurd = int(absurd.sum())
    if not n_absurd:
        return stream, []
    kept = ~absurd
    times = replace(stream.times, time_s=stream.times.time_s[kept], is_even=False)
    message = (
        f"{counted(n_absurd, 'sample')} of the {KIND_NAMES[stream.kind]} beyond what any worn"
        f" sensor measures ({limit.value:g} {limit.unit}), taken as missing"
    )
    notice = Notice("absurd_values", message, file=written.file, severity="check")
    return replace(stream, times=times, values=stream.values[kept]), [notice]
