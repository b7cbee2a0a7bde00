"""The stages of the whole-recording estimator, and the choice of a filter."""

from __future__ import annotations

from itertools import pairwise

import numpy as np

from imucarry.basics.evidence import motion as evidence
from imucarry.basics.records import (
    FloatArray,
    IndexRanges,
    Notice,
    Orientation,
    Recording,
)
from imucarry.basics.settings import MotionSettings
from imucarry.basics.units import DEG_PER_RAD
from imucarry.motion import pairs, signals
from imucarry.motion.orientation.bias import RateErrors, fit_errors
from imucarry.motion.orientation.forward_only import run_forward
from imucarry.motion.orientation.integrate import Blocks, correct, integrate
from imucarry.motion.orientation.jumps import jumps_of
from imucarry.motion.orientation.level import smooth, undo, upright
from imucarry.motion.pairs import Pair

FILTERS = evidence.FILTERS.value
CONTRADICTION = "gyro_contradicts_gravity"
"""Code of the notice that a sensor's angles cannot be relied on."""


def estimate_orientation(recording: Recording, settings: MotionSettings) -> Orientation:
    """Estimate the orientation of one sensor over its whole recording.

    Parameters
    ----------
    recording : Recording
        N samples.
    settings : MotionSettings
        ``filter`` "levelled" (see `level_recording`), "madgwick" or "mahony".

    Returns
    -------
    Orientation
        ``quat`` of shape (N, 4), sensor to world, world z up. The heading starts
        where the sensor's own axes stand and drifts with what is left of the bias.

    Raises
    ------
    ValueError
        If there is no sample. (A `Recording` refuses NaN when it is made.)
    """
    if recording.time_s.size == 0:
        raise ValueError("a recording without samples has no orientation")
    levelled = level_recording(recording, settings)
    if settings.filter == "levelled":
        return levelled
    return run_forward(recording, settings, levelled)


def level_recording(recording: Recording, settings: MotionSettings) -> Orientation:
    """Estimate orientation and bias from the whole recording at once, without lag.

    Notes
    -----
    1. Integrate the angular rate; turn the acceleration into the frame that results,
       which drifts slowly; take means ten times a second (`integrate`).
    2. Find rest, and fit bias and scale of the gyroscope (`fit_errors`).
    3. Take them out of the means (`undo`).
    4. Smooth the acceleration both ways in time: the vertical (`smooth`).
    5. Stand it upright without turning about it (`upright`).
    6. Apply 3 and 5 to every sample (`correct`).
    """
    quat, blocks = integrate(
        recording.acc_mps2,
        recording.gyr_radps,
        rate_hz=recording.rate_hz,
        block_rate_hz=evidence.BLOCK_RATE_HZ.value,
        gyro_sample=settings.gyro_sample,
    )
    weight, parts = usable_blocks(recording, blocks, settings.split_gap_s)
    still = signals.still_blocks(
        blocks.acc_mps2,
        blocks.gyr_radps,
        block_rate_hz=blocks.rate_hz,
        shortest_s=settings.rest_shortest_s,
        gyr_sd_degps=settings.rest_gyr_degps,
        acc_sd_mps2=settings.rest_acc_mps2,
    ) & (weight > 0)
    jumps = jumps_of(recording, blocks.n_samples)
    errors = fit_errors(blocks, still, weight, parts, jumps, settings)
    correct(quat, _correction(blocks, errors, weight, parts, settings), blocks.n_samples)
    rest = tuple((a * blocks.n_samples, b * blocks.n_samples) for a, b in signals.ranges_of(still))
    return Orientation(
        quat=quat,
        bias_radps=errors.bias_radps,
        bias_sd_radps=errors.bias_sd_radps,
        rest=rest,
        rate_scale=errors.scale,
        notices=(
            *_notices(recording, errors.bias_radps, parts, settings),
            *_contradiction(recording, errors.unexplained_radps),
        ),
    )


def _correction(
    blocks: Blocks,
    errors: RateErrors,
    weight: FloatArray,
    parts: IndexRanges,
    settings: MotionSettings,
) -> Pair:
    """Return the rotations from the drifting to the upright frame, shape (K,)."""
    error_radps = errors.bias_radps[:, None] + errors.scale @ blocks.gyr_radps
    unbiased = undo(np.einsum("ijk,jk->ik", blocks.to_world, error_radps), blocks.rate_hz)
    x, y, z = blocks.acc_world_mps2
    x, yz = pairs.turn_by_squares(pairs.pair_squares(unbiased), x, y + 1j * z)
    vertical = smooth(
        np.stack([x, yz.real, yz.imag]),
        rate_hz=blocks.rate_hz,
        time_constant_s=settings.tilt_time_constant_s,
        weight=weight,
        parts=parts,
    )
    return pairs.multiply_pairs(upright(vertical), unbiased)


def usable_blocks(
    recording: Recording, blocks: Blocks, split_gap_s: float
) -> tuple[FloatArray, IndexRanges]:
    """Return the usable share of each block, shape (K,), and the parts between long gaps."""
    n_blocks = blocks.gyr_radps.shape[1]
    if not recording.gaps:
        return np.ones(n_blocks), ((0, n_blocks),)
    filled = signals.mask_of(recording.gaps, recording.time_s.size)
    weight = 1 - signals.block_means(filled.astype(np.float64), blocks.n_samples)
    long_gaps = [
        (start + stop) // (2 * blocks.n_samples)
        for start, stop in recording.gaps
        if (stop - start) / recording.rate_hz > split_gap_s
    ]
    edges = sorted({0, n_blocks, *(middle for middle in long_gaps if 0 < middle < n_blocks)})
    return weight, tuple(pairwise(edges))


def _notices(
    recording: Recording, bias_radps: FloatArray, parts: IndexRanges, settings: MotionSettings
) -> tuple[Notice, ...]:
    notices = []
    largest_degps = float(np.abs(bias_radps).max()) * DEG_PER_RAD
    if largest_degps > settings.large_bias_degps:
        notices.append(
            Notice(
                code="large_gyro_bias",
                message=f"the gyroscope of the {recording.placement} sensor is off by "
                f"{largest_degps:.1f} deg/s; it was taken out, but the sensor may need care",
                where=recording.placement,
                severity="check",
            )
        )
    if len(parts) > 1:
        notices.append(
            Notice(
                code="levelled_in_parts",
                message=f"long gaps cut the recording of the {recording.placement} sensor into "
                f"{len(parts)} parts; headings before and after a gap cannot be compared",
                where=recording.placement,
            )
        )
    return tuple(notices)


def _contradiction(recording: Recording, unexplained_radps: float) -> tuple[Notice, ...]:
    """Tell of rates that do not belong to the accelerometer's gravity.

    Where the sensor's range cuts either off, that is known and told already.
    """
    ends = (*recording.acc_clipped, *recording.gyr_clipped)
    clipped = sum(stop - start for start, stop in ends)
    cut_off = clipped > evidence.CLIPPED_FRAC.value * recording.time_s.size
    drift_degps = unexplained_radps * DEG_PER_RAD
    if cut_off or drift_degps < evidence.CONTRADICTION_DEGPS.value:
        return ()
    name = recording.placement.replace("_", " ")
    message = (
        f"The gyroscope and the accelerometer of the {name} sensor contradict each other: by the "
        f"rates, gravity drifts by {drift_degps:.1f} deg each second. An axis of one of them is "
        "reversed or exchanged, its unit or scale is wrong, or the two were not recorded at the "
        "same time; none of the sensor's angles can be relied on until that is cleared."
    )
    return (
        Notice(
            code=CONTRADICTION,
            message=message,
            where=recording.placement,
            severity="check",
        ),
    )
