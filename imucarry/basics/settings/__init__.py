"""The frozen tree of settings: one class a room, defaults from ``evidence``.

A settings file is TOML with one table a class::

    [walk]
    trim_strides = 1

What a setting means, its unit and source stand at its default (`set_as`) in ``imucarry sources``.
An unknown table or key, a value of the wrong type or out of its range is a
`SettingsError`. Angles are in degrees here, as people write them.

The ranges are engineering choices: wide enough for all that a setting can mean,
narrow enough that every stage can work with what lies in them.
"""

from imucarry.basics.settings.files import as_tree, read_settings, set_as, settings_from
from imucarry.basics.settings.rooms import (
    CarrySettings,
    MeasureSettings,
    MotionSettings,
    ReaderSettings,
    Settings,
    WalkSettings,
)

__all__ = [
    "CarrySettings",
    "MeasureSettings",
    "MotionSettings",
    "ReaderSettings",
    "Settings",
    "WalkSettings",
    "as_tree",
    "read_settings",
    "set_as",
    "settings_from",
]
