"""What becomes of one sensor: its orientation and its clock."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from imucarry.basics.records.arrays import FloatArray, IndexRanges, freeze
from imucarry.basics.records.reading import Notice


@dataclass(frozen=True, slots=True, eq=False)
class Orientation:
    """Orientation of one sensor over its whole recording.

    Attributes
    ----------
    quat : ndarray, shape (N, 4)
        Unit quaternions, scalar first, sensor frame to world frame; world z is
        up, its heading is arbitrary and constant but for the gyroscope's drift.
    bias_radps : ndarray, shape (3,) [rad/s]
        Gyroscope bias that was taken out, in sensor axes.
    bias_sd_radps : float [rad/s]
        Its standard error.
    rest : index ranges
        Where the sensor was still.
    rate_scale : ndarray, shape (3, 3) [1]
        Gyroscope errors of scale and alignment that were taken out: what each axis
        reads too much, as a share of each true rate.
    """

    quat: FloatArray
    bias_radps: FloatArray
    bias_sd_radps: float
    rest: IndexRanges
    rate_scale: FloatArray = field(default_factory=lambda: np.zeros((3, 3)))
    notices: tuple[Notice, ...] = ()

    def __post_init__(self) -> None:
        freeze(self.quat, (-1, 4), "quat")
        freeze(self.bias_radps, (3,), "bias_radps")
        freeze(self.rate_scale, (3, 3), "rate_scale")


@dataclass(frozen=True, slots=True)
class ClockFit:
    """How one sensor's clock stands to the session clock: t_session = offset + (1 + drift) t."""

    placement: str
    offset_s: float
    drift_ppm: float
    sd_s: float
    source: str  # "reference", "given", "event", "shared_motion", "assumed"
    notices: tuple[Notice, ...] = ()
