"""The walker's trunk: where it faces, how it leans, how it is accelerated."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.interpolate import PchipInterpolator

from imucarry.basics.records import FloatArray
from imucarry.simulate import shape
from imucarry.simulate.gait import FINE_HZ, Gait
from imucarry.simulate.kinematics import derivative
from imucarry.simulate.noise import alike, in_band
from imucarry.simulate.walker import Walker

TWO_PI = 2.0 * np.pi


@dataclass(frozen=True, slots=True)
class TrunkCourse:
    """The trunk of one bout on the fine grid.

    Attributes
    ----------
    yaw_rad : ndarray, shape (N,) [rad]
        Heading of the thorax's forward axis from the path, left positive.
    lean_rad, pitch_rad : ndarray, shape (N,) [rad]
        What the stride adds; the bout's mean is a posture.
    acc_mps2 : ndarray, shape (N, 3) [m/s^2]
        Of the sternum, along the path, to its left, up; without gravity.
    """

    yaw_rad: FloatArray
    lean_rad: FloatArray
    pitch_rad: FloatArray
    acc_mps2: FloatArray


def move_trunk(rng: np.random.Generator, walker: Walker, gait: Gait) -> TrunkCourse:
    """Work out the trunk's motion of one bout."""
    own = np.random.default_rng(walker.shape_seed)
    yaw_wave = swing_wave(own, gait.phase_rad, walker.yaw_phase_deg)
    lean_wave = swing_wave(own, gait.phase_rad, walker.lean_phase_deg, most_third=0.25)
    n_samples = gait.phase_rad.size
    low, high = 0.8 * walker.stride_hz, 3.0 * walker.stride_hz
    loose = walker.yaw_loose_deg * in_band(rng, n_samples, FINE_HZ, low, high)
    yaw_size = per_stride(
        rng, gait, walker.yaw_range_deg, walker.yaw_sd_deg, likeness=walker.likeness
    )
    lean_size = per_stride(
        rng, gait, walker.lean_range_deg, 0.12 * walker.lean_range_deg, likeness=walker.likeness
    )
    nod = walker.pitch_range_deg * 0.5 * np.cos(2.0 * gait.phase_rad - own.uniform(0.0, TWO_PI))
    return TrunkCourse(
        yaw_rad=np.deg2rad(gait.envelope * (yaw_size * yaw_wave + loose)),
        lean_rad=np.deg2rad(gait.envelope * lean_size * lean_wave),
        pitch_rad=np.deg2rad(gait.envelope * nod),
        acc_mps2=_acceleration(rng, own, walker, gait),
    )


def swing_wave(
    own: np.random.Generator, phase_rad: FloatArray, crest_deg: float, *, most_third: float = 0.06
) -> FloatArray:
    """Return a wave at stride rate with small harmonics, peak to peak 1, crest where told."""
    second, third = own.uniform(0.0, 0.15), own.uniform(0.0, most_third)
    late = own.uniform(0.0, TWO_PI, 2)

    def course(x: FloatArray) -> FloatArray:
        return np.asarray(
            np.cos(x) + second * np.cos(2.0 * x - late[0]) + third * np.cos(3.0 * x - late[1])
        )

    whole = course(np.linspace(0.0, TWO_PI, 721))
    return np.asarray(course(phase_rad - np.deg2rad(crest_deg)) / np.ptp(whole))


def per_stride(
    rng: np.random.Generator, gait: Gait, mean: float, spread: float, *, likeness: float
) -> FloatArray:
    """Return a size that differs from stride to stride, smooth over time, shape (N,)."""
    stride = gait.phase_rad / TWO_PI
    first, last = int(stride.min()) - 2, int(stride.max()) + 3
    node = np.arange(first, last) + 0.5
    values = mean + spread * alike(rng, node.size, likeness)
    return np.asarray(PchipInterpolator(node, values)(stride))


def _acceleration(
    rng: np.random.Generator, own: np.random.Generator, walker: Walker, gait: Gait
) -> FloatArray:
    """Return the sternum's acceleration along the path, to its left and up, shape (N, 3)."""
    bout = np.exp(walker.bout_spread * rng.standard_normal(3))
    growth = [shape.speed_factor(walker.speed_mps, power) for power in (1.0, 0.7, 1.3)]
    spread = (walker.forward_sd_mps2, walker.lateral_sd_mps2, walker.vertical_sd_mps2)
    noise_growth = shape.speed_factor(walker.speed_mps, 0.5)
    columns = []
    for k, harmonics in enumerate((shape.FORWARD, shape.LATERAL, shape.VERTICAL)):
        departures = shape.own_shape(own, harmonics, walker.shape_spread)
        steady = shape.wave(gait.answer_phase_rad, harmonics, departures)
        other = in_band(rng, steady.size, FINE_HZ, 0.7, 9.0)
        columns.append(
            gait.envelope
            * (gait.strength * growth[k] * bout[k] * steady + noise_growth * spread[k] * other)
        )
    along = derivative(gait.speed_mps, FINE_HZ)
    inward = gait.speed_mps * derivative(gait.heading_rad, FINE_HZ)
    return np.column_stack([columns[0] + along, columns[1] + inward, columns[2]])
