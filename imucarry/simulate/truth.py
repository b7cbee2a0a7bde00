"""What is true of a simulated bout, by the definitions that the scores use."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.interpolate import CubicSpline

from imucarry.basics.records import BoolArray, FloatArray, IntArray
from imucarry.simulate.gait import FINE_HZ, Gait
from imucarry.simulate.kinematics import derivative
from imucarry.simulate.path import Leg

N_STEPS = 200
"""Points of a stride at which truth is read off."""
TURNING_DEG = 30.0
"""A stride whose path turns by more is a turning stride; gentle curves reach 20."""


@dataclass(frozen=True, slots=True)
class BoutTruth:
    """What is true of one bout; times on the session clock.

    Attributes
    ----------
    bout : str
    walk_start_s, walk_end_s : float
        When walking begins and ends.
    contact_s, is_left : ndarray, shape (K,)
    is_weak : ndarray of bool, shape (K,)
        First and closing steps.
    start_s, right_contact_s, end_s : ndarray, shape (S,)
        Strides: a left contact, the right and the next left one.
    sternum_yaw_range_deg, yaw_phase_deg : ndarray, shape (S,)
    left_arm_swing_deg, right_arm_swing_deg : ndarray, shape (S,)
    left_arm_phase_deg, right_arm_phase_deg : ndarray, shape (S,)
        When the forearm is farthest forward, at stride rate.
    lean_deg, lean_range_deg, pitch_deg : ndarray, shape (S,)
    path_turn_deg : ndarray, shape (S,)
        Change of the path's heading within the stride.
    turning : ndarray of bool, shape (S,)
    pass_number : ndarray of int, shape (S,)
        0 for a stride that is not wholly in one straight or curved leg.
    path_apart_s : ndarray, shape (S,)
        Time from the stride to the nearest turn, start or stop; 0 when it touches one.
    time_s, yaw_deg, heading_deg : ndarray, shape (N,)
        The whole course: sternum yaw from the path, and the path's heading.
    """

    bout: str
    walk_start_s: float
    walk_end_s: float
    contact_s: FloatArray
    is_left: BoolArray
    is_weak: BoolArray
    start_s: FloatArray
    right_contact_s: FloatArray
    end_s: FloatArray
    sternum_yaw_range_deg: FloatArray
    yaw_phase_deg: FloatArray
    left_arm_swing_deg: FloatArray
    right_arm_swing_deg: FloatArray
    left_arm_phase_deg: FloatArray
    right_arm_phase_deg: FloatArray
    lean_deg: FloatArray
    lean_range_deg: FloatArray
    pitch_deg: FloatArray
    path_turn_deg: FloatArray
    turning: BoolArray
    pass_number: IntArray
    path_apart_s: FloatArray
    time_s: FloatArray
    yaw_deg: FloatArray
    heading_deg: FloatArray


@dataclass(frozen=True, slots=True)
class BoutCourses:
    """The angles that truth is read from, on the fine grid of one bout [rad].

    ``left_arm_rad`` and ``right_arm_rad`` are the forearms in their own swing planes.
    """

    yaw_rad: FloatArray
    lean_rad: FloatArray
    pitch_rad: FloatArray
    left_arm_rad: FloatArray
    right_arm_rad: FloatArray


def swing_in_plane(along: FloatArray, heading_rad: FloatArray, walking: FloatArray) -> FloatArray:
    """Return a forearm's angle in its own swing plane, shape (N,) [rad].

    Parameters
    ----------
    along : ndarray, shape (N, 3)
        Unit vector from elbow to hand, in the world.
    heading_rad : ndarray, shape (N,) [rad]
        Heading that the plane goes with: the path's and the arm's turn with the
        trunk. Turn about the vertical tips the forearm in no plane.
    walking : ndarray, shape (N,)
        Weight of each sample in choosing the plane.

    Notes
    -----
    The plane is the vertical one that holds most of the forearm's rotation: its
    normal is the main horizontal axis of ``along`` x its derivative. Turn about
    the forearm's own length is not in it.
    """
    cos, sin = np.cos(heading_rad), np.sin(heading_rad)
    ahead = cos * along[:, 0] + sin * along[:, 1]
    left = cos * along[:, 1] - sin * along[:, 0]
    turned = np.column_stack([ahead, left, along[:, 2]])
    rate = np.cross(turned, derivative(turned, FINE_HZ))[:, :2] * walking[:, None]
    _, axes = np.linalg.eigh(rate.T @ rate)
    normal = axes[:, 1]
    forward = np.array([normal[1], -normal[0]])
    forward = forward * (1.0 if forward[0] >= 0.0 else -1.0)
    return np.unwrap(np.arctan2(turned[:, :2] @ forward, -turned[:, 2]))


def read_truth(
    bout: str, legs: tuple[Leg, ...], gait: Gait, courses: BoutCourses, *, base_deg: float
) -> BoutTruth:
    """Read off what is true of each stride; times on the world's clock."""
    start, right, end = _strides(gait)
    time_s = gait.start_s + np.arange(gait.phase_rad.size) / FINE_HZ
    at = start[:, None] + np.linspace(0.0, 1.0, N_STEPS + 1) * (end - start)[:, None]

    def read(values: FloatArray) -> FloatArray:
        return np.rad2deg(CubicSpline(time_s, values)(at))

    yaw, lean, pitch = read(courses.yaw_rad), read(courses.lean_rad), read(courses.pitch_rad)
    arms = {"left": read(courses.left_arm_rad), "right": read(courses.right_arm_rad)}
    path = read(gait.heading_rad)
    path_turn = path[:, -1] - path[:, 0]
    steps = gait.steps
    is_weak = np.concatenate([[True], np.diff(steps.episode) > 0])
    is_weak |= np.concatenate([np.diff(steps.episode) > 0, [True]])
    pass_number, apart = _place_on_path(legs, gait, start, end)
    return BoutTruth(
        bout=bout,
        walk_start_s=float(steps.contact_s[0]),
        walk_end_s=float(steps.contact_s[-1]),
        contact_s=steps.contact_s,
        is_left=steps.is_left,
        is_weak=is_weak,
        start_s=start,
        right_contact_s=right,
        end_s=end,
        sternum_yaw_range_deg=np.ptp(yaw, axis=1),
        yaw_phase_deg=_crest_deg(yaw),
        left_arm_swing_deg=np.ptp(arms["left"], axis=1),
        right_arm_swing_deg=np.ptp(arms["right"], axis=1),
        left_arm_phase_deg=_crest_deg(arms["left"]),
        right_arm_phase_deg=_crest_deg(arms["right"]),
        lean_deg=lean[:, :-1].mean(axis=1),
        lean_range_deg=np.ptp(lean, axis=1),
        pitch_deg=pitch[:, :-1].mean(axis=1),
        path_turn_deg=path_turn,
        turning=np.abs(path_turn) > TURNING_DEG,
        pass_number=pass_number,
        path_apart_s=apart,
        time_s=time_s,
        yaw_deg=np.rad2deg(courses.yaw_rad),
        heading_deg=np.rad2deg(gait.heading_rad) + base_deg,
    )


def _strides(gait: Gait) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Return the left, right and next left contact of each stride of one episode."""
    steps = gait.steps
    contact, left = steps.contact_s, steps.is_left
    first = np.flatnonzero(left[:-2] & (steps.episode[:-2] == steps.episode[2:]))
    return contact[first], contact[first + 1], contact[first + 2]


def _place_on_path(
    legs: tuple[Leg, ...], gait: Gait, start: FloatArray, end: FloatArray
) -> tuple[IntArray, FloatArray]:
    """Return each stride's pass and its time from the nearest turn, start or stop."""
    steps = gait.steps
    runs = _runs(legs, gait)
    number = np.zeros(start.size, dtype=np.int64)
    for k, (low, high) in enumerate(runs, start=1):
        number[(start >= low - 1e-9) & (end <= high + 1e-9)] = k
    edges = np.array([edge for run in runs for edge in run] or [steps.contact_s[0]])
    gaps = np.maximum(start[:, None] - edges, edges - end[:, None])
    apart = np.maximum(gaps.min(axis=1, initial=np.inf), 0.0)
    return number, np.where(number > 0, apart, 0.0)


def _runs(legs: tuple[Leg, ...], gait: Gait) -> list[tuple[float, float]]:
    """Return the spans between turns and stops: each begins and ends at a contact."""
    steps = gait.steps
    open_leg = np.array([legs[k].kind != "turn" for k in steps.leg])
    runs = []
    begin = 0
    for k in range(1, steps.contact_s.size + 1):
        last = k == steps.contact_s.size
        if last or open_leg[k] != open_leg[begin] or steps.episode[k] != steps.episode[begin]:
            if open_leg[begin]:
                fresh = begin == 0 or steps.episode[begin] != steps.episode[begin - 1]
                low = steps.contact_s[begin if fresh else begin - 1]
                runs.append((float(low), float(steps.contact_s[k - 1])))
            begin = k
    return runs


def _harmonic(curves: FloatArray, order: int) -> FloatArray:
    """Return one complex harmonic of each curve, shape (S,)."""
    turn = np.exp(-2j * np.pi * order * np.arange(N_STEPS) / N_STEPS)
    return np.asarray(curves[:, :-1] @ turn * (2.0 / N_STEPS))


def _crest_deg(curves: FloatArray) -> FloatArray:
    """Return when the stride-rate harmonic is greatest, 0 to 360, shape (S,)."""
    return np.asarray(np.rad2deg(-np.angle(_harmonic(curves, 1))) % 360.0)
