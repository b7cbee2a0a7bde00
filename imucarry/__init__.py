"""imucarry: does the sternum still swing in a loaded carry?

Reads chest- and wrist-worn accelerometer and gyroscope recordings of loaded
carries and scores, for each bout, trunk rotation and arm swing stride by
stride against the same person's free walk.

Examples
--------
>>> import imucarry
>>> scores = imucarry.score_session("data/example")
>>> sorted(scores.strides.columns)[:2]
['bout', 'drop_reason']
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from imucarry.api import PageOptions, ScoredSession, score_session, write_scores
    from imucarry.api.agreement import agree_files
    from imucarry.api.demo import write_demo_session
    from imucarry.api.exports import export_session
    from imucarry.api.preview import preview_files
    from imucarry.api.retest import retest_file, retest_notices
    from imucarry.basics.errors import ImucarryError
    from imucarry.basics.settings import (
        CarrySettings,
        MeasureSettings,
        MotionSettings,
        ReaderSettings,
        Settings,
        WalkSettings,
        read_settings,
    )
    from imucarry.cohort import CohortOptions, score_cohort
    from imucarry.export.labels import Labels

__version__ = "0.6.0"

__all__ = [
    "CarrySettings",
    "CohortOptions",
    "ImucarryError",
    "Labels",
    "MeasureSettings",
    "MotionSettings",
    "PageOptions",
    "ReaderSettings",
    "ScoredSession",
    "Settings",
    "WalkSettings",
    "__version__",
    "agree_files",
    "export_session",
    "preview_files",
    "read_settings",
    "retest_file",
    "retest_notices",
    "score_cohort",
    "score_session",
    "write_demo_session",
    "write_scores",
]

_HOMES = {
    "CarrySettings": "imucarry.basics.settings",
    "CohortOptions": "imucarry.cohort",
    "ImucarryError": "imucarry.basics.errors",
    "Labels": "imucarry.export.labels",
    "MeasureSettings": "imucarry.basics.settings",
    "MotionSettings": "imucarry.basics.settings",
    "PageOptions": "imucarry.api",
    "ReaderSettings": "imucarry.basics.settings",
    "ScoredSession": "imucarry.api",
    "Settings": "imucarry.basics.settings",
    "WalkSettings": "imucarry.basics.settings",
    "agree_files": "imucarry.api.agreement",
    "export_session": "imucarry.api.exports",
    "preview_files": "imucarry.api.preview",
    "read_settings": "imucarry.basics.settings",
    "retest_file": "imucarry.api.retest",
    "retest_notices": "imucarry.api.retest",
    "score_cohort": "imucarry.cohort",
    "score_session": "imucarry.api",
    "write_demo_session": "imucarry.api.demo",
    "write_scores": "imucarry.api",
}


def __getattr__(name: str) -> Any:
    """Import a public name when it is first used, so that ``imucarry --help`` is quick."""
    from importlib import import_module

    if name not in _HOMES:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module(_HOMES[name]), name)


def __dir__() -> list[str]:
    """Name what is public, imported yet or not."""
    return sorted({*globals(), *__all__})
