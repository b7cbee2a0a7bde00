"""What an invented walker is made of: how they step, turn their trunk and swing their arms.

Angles in degrees, because these are specifications that people write; phases in
degrees of a stride, 0 at left contact.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import Literal

import numpy as np

from imucarry.basics.records import Side


@dataclass(frozen=True, slots=True)
class Arm:
    """One arm of the walker.

    Attributes
    ----------
    swing_deg, swing_sd_deg : float
        Peak to peak of the forearm's swing: mean, and spread from stride to stride.
    phase_deg : float
        When the forearm is farthest forward.
    per_stride : int
        Swings in a stride: 1, or 2 when the arm swings at step rate.
    mean_deg : float
        Forearm from hanging (0) over level (90) to straight up (180).
    flexion_deg : float
        Elbow flexion: forearm minus upper arm.
    plane_deg : float
        Swing plane from the direction of the path, left positive.
    abduction_deg : float
        Forearm out of its swing plane, outward positive.
    sideways_deg : float
        Peak to peak of the forearm's motion out of its plane, at step rate.
    pronation_deg, pronation_range_deg : float
        Turn of the forearm about its own length: mean, and range within a stride.
    with_trunk_frac : float
        Share of the trunk's yaw that turns the arm with it.
    tremble_deg : float
        Spread of what is not locked to the stride.
    """

    swing_deg: float = 35.0
    swing_sd_deg: float = 3.0
    phase_deg: float = 180.0
    per_stride: int = 1
    mean_deg: float = 18.0
    flexion_deg: float = 15.0
    plane_deg: float = 0.0
    abduction_deg: float = 5.0
    sideways_deg: float = 4.0
    pronation_deg: float = 0.0
    pronation_range_deg: float = 10.0
    with_trunk_frac: float = 0.2
    tremble_deg: float = 0.5


@dataclass(frozen=True, slots=True)
class Walker:
    """One way of walking: a person in one condition.

    Attributes
    ----------
    stride_hz : float
    speed_mps : float
    step_asymmetry_pct : float
        100 (right - left) / mean of the step times.
    stride_time_cv : float
        Spread over mean of the stride times.
    step_time_sd_s : float
        Further spread of each step.
    likeness : float
        Correlation of neighbouring strides, of times and of angles.
    yaw_range_deg, yaw_sd_deg, yaw_phase_deg : float
        Sternum yaw locked to the stride: peak to peak, its spread from stride to
        stride, and when it faces farthest left.
    yaw_loose_deg : float
        Spread of the yaw that is not locked to the stride.
    veer_deg : float
        Spread of the path's own slow wandering.
    lean_deg, lean_range_deg, lean_phase_deg : float
        Side lean, right positive: mean, peak to peak, when farthest right.
    pitch_deg, pitch_range_deg : float
        Forward pitch: mean, peak to peak (at step rate).
    sternum_slope_deg : float
        How far the outward direction of the sternum points above the level.
    impact_degps, impact_mps2, impact_hz : float
        Strap and soft tissue after each contact: size in rate and acceleration.
    vertical_sd_mps2, lateral_sd_mps2, forward_sd_mps2 : float
        Spread of trunk acceleration from stride to stride.
    answer_s, answer_sd_s : float
        From contact to the trunk's answer: mean and spread.
    shape_spread : float
        How far this walker's trunk acceleration departs from the common shape.
    shape_seed : int
        Makes this walker's own shape, the same in every bout.
    bout_spread : float
        Random effect from bout to bout, on the acceleration's size.
    walk_cv : float
        Random effect from bout to bout, on the yaw range and both arms' swing.
    """

    stride_hz: float = 0.92
    speed_mps: float = 1.2
    step_asymmetry_pct: float = 0.0
    stride_time_cv: float = 0.02
    step_time_sd_s: float = 0.006
    likeness: float = 0.3
    yaw_range_deg: float = 8.0
    yaw_sd_deg: float = 1.0
    yaw_phase_deg: float = 20.0
    yaw_loose_deg: float = 0.4
    veer_deg: float = 1.5
    lean_deg: float = 0.0
    lean_range_deg: float = 4.0
    lean_phase_deg: float = 60.0
    pitch_deg: float = 1.0
    pitch_range_deg: float = 2.0
    sternum_slope_deg: float = 15.0
    impact_degps: float = 40.0
    impact_mps2: float = 1.2
    impact_hz: float = 11.0
    vertical_sd_mps2: float = 1.1
    lateral_sd_mps2: float = 0.85
    forward_sd_mps2: float = 0.55
    answer_s: float = 0.01
    answer_sd_s: float = 0.009
    shape_spread: float = 0.25
    shape_seed: int = 1
    bout_spread: float = 0.08
    walk_cv: float = 0.0
    left_arm: Arm = field(default_factory=lambda: Arm(phase_deg=190.0))
    right_arm: Arm = field(default_factory=lambda: Arm(phase_deg=10.0))

    def __post_init__(self) -> None:
        if not 0.3 <= self.stride_hz <= 2.5:
            raise ValueError(f"a stride rate of {self.stride_hz} Hz is not walking")
        if not 0.0 <= self.likeness < 1.0:
            raise ValueError("the likeness of neighbours must lie in 0 to 1")


def arm_of(walker: Walker, side: Side) -> Arm:
    """Return one arm of the walker."""
    return walker.left_arm if side == "left" else walker.right_arm


def of_the_day(rng: np.random.Generator, walker: Walker) -> Walker:
    """Return the walker as they are in one bout: yaw and swings differ by ``walk_cv``."""
    yaw, left, right = np.exp(walker.walk_cv * rng.standard_normal(3))
    return replace(
        walker,
        yaw_range_deg=walker.yaw_range_deg * yaw,
        left_arm=replace(walker.left_arm, swing_deg=walker.left_arm.swing_deg * left),
        right_arm=replace(walker.right_arm, swing_deg=walker.right_arm.swing_deg * right),
    )


Pose = Literal["side", "rack", "bottoms_up", "overhead"]


def holding(arm: Arm, pose: Pose, *, swing_deg: float = 3.0) -> Arm:
    """Return the arm as it holds a load: at the side, upright before the chest, overhead."""
    held = replace(
        arm,
        swing_deg=swing_deg,
        swing_sd_deg=0.2 * swing_deg,
        sideways_deg=min(arm.sideways_deg, 1.5),
        pronation_range_deg=min(arm.pronation_range_deg, 3.0),
        tremble_deg=0.3,
    )
    if pose == "side":
        return replace(held, mean_deg=3.0, flexion_deg=3.0, abduction_deg=6.0, with_trunk_frac=0.3)
    if pose == "overhead":
        return replace(
            held, mean_deg=176.0, flexion_deg=6.0, abduction_deg=-4.0, with_trunk_frac=0.7
        )
    flexion = 140.0 if pose == "rack" else 110.0
    mean = 155.0 if pose == "rack" else 168.0
    return replace(
        held, mean_deg=mean, flexion_deg=flexion, abduction_deg=-12.0, with_trunk_frac=0.9
    )
