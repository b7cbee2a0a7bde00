"""Each bout before its measures: what the trunk did from contact to contact, and the arms."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

from imucarry.basics.records import (
    SIDES,
    ArmMotion,
    BoutRow,
    Contacts,
    Pass,
    SensorResult,
    Side,
    Strides,
    StrideYaw,
    TrunkMotion,
    Window,
)
from imucarry.basics.settings import WalkSettings
from imucarry.walk.arms import arm_motion
from imucarry.walk.contacts import find_all_contacts
from imucarry.walk.passes import find_passes
from imucarry.walk.strides import cut_strides, no_strides
from imucarry.walk.trunk import trunk_motion
from imucarry.walk.worlds import in_one_world
from imucarry.walk.yaw import stride_yaw


def worn_at(sensors: Sequence[SensorResult], placement: str) -> SensorResult | None:
    """Return the sensor that was worn at a placement."""
    return next((item for item in sensors if item.recording.placement == placement), None)


@dataclass(frozen=True, slots=True)
class Walk:
    """One bout before its measures: what the trunk did, and the arms' motion."""

    row: BoutRow
    trunk: TrunkMotion | None
    contacts: Contacts
    passes: tuple[Pass, ...]
    strides: Strides
    yaw: StrideYaw | None
    arms: Mapping[Side, ArmMotion]


def walks_of(
    rows: Sequence[BoutRow],
    sensors: Sequence[SensorResult],
    settings: WalkSettings,
    tell: Callable[[str, int, int], None],
) -> list[Walk]:
    """Return what each bout's trunk and arms did.

    Parameters
    ----------
    rows : sequence of BoutRow
    sensors : sequence of SensorResult
        On the session clock, the chest's with its frame.
    settings : WalkSettings
    tell : callable
        Told ``"bouts"``, how many are done, and how many there are.
    """
    chest = worn_at(sensors, "chest")
    trunks = [_trunk(row, chest, settings) for row in rows]
    contacts = find_all_contacts(trunks)
    walks = []
    for k, (row, trunk, found) in enumerate(zip(rows, trunks, contacts, strict=True)):
        arms = _arms(sensors, Window(row.start_s, row.end_s))
        walks.append(_walk(row, trunk, _told_of(found, row.bout), arms, settings))
        tell("bouts", k + 1, len(rows))
    return walks


def _trunk(row: BoutRow, chest: SensorResult | None, settings: WalkSettings) -> TrunkMotion | None:
    if chest is None or chest.frame is None:
        return None
    window = Window(row.start_s, row.end_s)
    return trunk_motion(chest.recording, chest.orientation, chest.frame, window, settings)


def _told_of(contacts: Contacts, bout: str) -> Contacts:
    """Let the notices of a bout's contacts name it."""
    told = (replace(notice, where=notice.where or bout) for notice in contacts.notices)
    return replace(contacts, notices=tuple(told))


def _walk(
    row: BoutRow,
    trunk: TrunkMotion | None,
    contacts: Contacts,
    arms: Mapping[Side, ArmMotion],
    settings: WalkSettings,
) -> Walk:
    if trunk is None:
        return Walk(row, None, contacts, (), no_strides(), None, arms)
    arms = {side: in_one_world(arm, trunk) for side, arm in arms.items()}
    passes, contacts = find_passes(trunk, contacts, settings)
    strides = cut_strides(trunk, contacts, arms, settings)
    yaw = stride_yaw(trunk, strides)
    return Walk(row, trunk, contacts, passes, strides, yaw, arms)


def _arms(sensors: Sequence[SensorResult], window: Window) -> dict[Side, ArmMotion]:
    worn = {side: worn_at(sensors, f"{side}_wrist") for side in SIDES}
    return {
        side: arm_motion(item.recording, item.orientation, side, window)
        for side, item in worn.items()
        if item is not None
    }
