"""Two well-known filters that look back in time only, by the library `ahrs`.

They loop over the samples and lag behind; they are here for comparison and for
whoever must report them. `ahrs` is imported only when one of them is chosen.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from imucarry.basics.evidence import motion as evidence
from imucarry.basics.records import FloatArray, Orientation, Recording
from imucarry.basics.settings import MotionSettings
from imucarry.motion import rotations
from imucarry.motion.orientation.level import UP


def run_forward(
    recording: Recording, settings: MotionSettings, levelled: Orientation
) -> Orientation:
    """Estimate the orientation sample by sample with the filter that the settings name.

    Parameters
    ----------
    recording : Recording
    settings : MotionSettings
        ``filter`` is "madgwick" or "mahony".
    levelled : Orientation
        Of the default estimator: its bias is taken out first, as neither filter
        finds a bias about the vertical, and its rest is handed on.

    Returns
    -------
    Orientation

    Notes
    -----
    Both turn sensor to world with z up, and start upright by the first acceleration.
    """
    gyr_radps = mean_rates(recording.gyr_radps, settings.gyro_sample) - levelled.bias_radps
    first = recording.acc_mps2[:1]
    start = np.array([1.0, 0.0, 0.0, 0.0])
    if np.any(first):
        start = rotations.shortest_arc(rotations.normalize(first), UP)[0]
    run = {"madgwick": _madgwick, "mahony": _mahony}[settings.filter]
    quat = rotations.normalize(run(gyr_radps, recording.acc_mps2, recording.rate_hz, start))
    return replace(levelled, quat=quat)


def mean_rates(gyr_radps: FloatArray, gyro_sample: str) -> FloatArray:
    """Return the mean rate of the step up to each sample, shape (N, 3) [rad/s]."""
    if gyro_sample == "mean_since_last":
        return gyr_radps
    return np.concatenate([gyr_radps[:1], 0.5 * (gyr_radps[1:] + gyr_radps[:-1])])


def _madgwick(
    gyr_radps: FloatArray, acc_mps2: FloatArray, rate_hz: float, start: FloatArray
) -> FloatArray:
    from ahrs.filters import Madgwick  # type: ignore[import-untyped]  # ships no types

    # A misspelt option would be ignored without a word: these names are tested.
    result = Madgwick(
        gyr=gyr_radps,
        acc=acc_mps2,
        frequency=rate_hz,
        gain_imu=evidence.MADGWICK_GAIN.value,
        q0=start,
    )
    return np.asarray(result.Q, dtype=np.float64)


def _mahony(
    gyr_radps: FloatArray, acc_mps2: FloatArray, rate_hz: float, start: FloatArray
) -> FloatArray:
    from ahrs.filters import Mahony

    result = Mahony(
        gyr=gyr_radps,
        acc=acc_mps2,
        frequency=rate_hz,
        k_P=evidence.MAHONY_GAIN_HZ.value,
        # The bias is out already, and more gain here would chase the wearer; 0 is refused.
        k_I=1e-9,
        q0=start,
    )
    return np.asarray(result.Q, dtype=np.float64)
