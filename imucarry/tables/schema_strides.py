"""Columns of the tables with a row for each stride and for each foot contact."""

from __future__ import annotations

from imucarry.basics.records import SIDES
from imucarry.tables import codes
from imucarry.tables.columns import Column, Table, codes_joined, count, flag, number, text

WHO = (
    text("participant", "Participant code as the session names it.", required=True),
    text("session", "Session (visit) code as the session names it.", required=True),
)
BOUT = text("bout", "Name of the bout.", required=True)


def _arm_stride_columns(side: str) -> tuple[Column, ...]:
    return (
        number(
            f"{side}_arm_swing_deg",
            "deg",
            f"Peak to peak of the {side} forearm's angle in its own swing plane within the stride.",
        ),
        number(
            f"{side}_arm_peak_rate_degps",
            "deg/s",
            f"Largest rate of the {side} forearm about the normal of its swing plane.",
            2,
        ),
        number(
            f"{side}_arm_peak_rate_forward_degps",
            "deg/s",
            f"Largest forward rate of the {side} forearm; empty where forward is not known.",
            2,
        ),
        number(
            f"{side}_arm_peak_rate_backward_degps",
            "deg/s",
            f"Largest backward rate of the {side} forearm; empty where forward is not known.",
            2,
        ),
        number(
            f"{side}_arm_mean_angle_deg",
            "deg",
            f"Mean angle of the {side} forearm against quiet standing, forward positive.",
        ),
        number(
            f"{side}_arm_phase_deg",
            "deg",
            f"When in the stride the {side} forearm is farthest forward; 0 at left contact.",
            2,
        ),
        number(
            f"{side}_sternum_on_arm_deg",
            "deg",
            f"Range of sternum yaw minus the {side} forearm's rotation about the vertical, each "
            "with its stride mean removed; a proxy for the rib cage turning about a still arm, "
            "pronation included.",
        ),
    )


STRIDES = Table(
    "strides",
    "One stride: a left contact to the next left contact",
    (
        *WHO,
        BOUT,
        count("stride", "Number of the stride in the bout, from 1, left-out strides too."),
        count("pass", "Straight run between turns that the stride lies in; empty in a turn."),
        count("stride_in_pass", "Number of the stride in its pass, from 1; empty in a turn."),
        number("start_s", "s", "Start of the stride on the session clock.", 4),
        number("end_s", "s", "End of the stride on the session clock.", 4),
        number("left_contact_s", "s", "Initial contact of the left foot; equals start_s.", 4),
        number("right_contact_s", "s", "Initial contact of the right foot within the stride.", 4),
        number("stride_time_s", "s", "Left contact to next left contact.", 4),
        number("left_step_time_s", "s", "Right contact to left contact.", 4),
        number("right_step_time_s", "s", "Left contact to right contact.", 4),
        number(
            "sternum_yaw_range_deg",
            "deg",
            "Peak to peak of the sternum's heading within the stride, path heading removed.",
        ),
        number(
            "sternum_yaw_locked_deg",
            "deg",
            "Peak to peak of the part of the yaw that is locked to the stride "
            "(stride-rate and step-rate harmonics).",
        ),
        number(
            "sternum_yaw_phase_deg",
            "deg",
            "When in the stride the sternum faces farthest left; 0 at left contact, 360 a stride.",
            2,
        ),
        number("sternum_peak_yaw_rate_degps", "deg/s", "Largest yaw rate within the stride.", 2),
        number(
            "sternum_yaw_floor_deg",
            "deg",
            "Walking floor: peak to peak that the part not locked to the stride would give.",
        ),
        *(column for side in SIDES for column in _arm_stride_columns(side)),
        number(
            "torso_lean_deg",
            "deg",
            "Mean side lean over the stride against quiet standing, right positive.",
        ),
        number("torso_lean_range_deg", "deg", "Peak to peak of the side lean within the stride."),
        number(
            "torso_pitch_deg",
            "deg",
            "Mean pitch over the stride against quiet standing, forward positive.",
        ),
        flag("turning", "The stride lies in a turn."),
        flag("kept_timing", "The stride counts for times."),
        flag("kept_yaw", "The stride counts for sternum rotation."),
        flag("kept_left_arm", "The stride counts for the left arm."),
        flag("kept_right_arm", "The stride counts for the right arm."),
        codes_joined("drop_reason", "Why one of the kept_ columns is false", codes.DROPPED),
    ),
    ("participant", "session", "bout", "stride"),
)

CONTACTS = Table(
    "contacts",
    "One foot contact",
    (
        *WHO,
        BOUT,
        count("pass", "Straight run between turns; empty in a turn."),
        number("contact_s", "s", "Time of initial contact on the session clock.", 4),
        text("side", "Foot that landed.", ("left", "right"), required=True),
    ),
    ("participant", "session", "bout", "contact_s"),
)
