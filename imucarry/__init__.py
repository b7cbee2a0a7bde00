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
    from imucarry.api import ScoredSession, score_session, write_scores
    from imucarry.basics.errors import ImucarryError
    from imucarry.basics.settings import Settings, read_settings

__version__ = "0.1.0"

__all__ = [
    "ImucarryError",
    "ScoredSession",
    "Settings",
    "__version__",
    "read_settings",
    "score_session",
    "write_scores",
]

_HOMES = {
    "ImucarryError": "imucarry.basics.errors",
    "ScoredSession": "imucarry.api",
    "Settings": "imucarry.basics.settings",
    "read_settings": "imucarry.basics.settings",
    "score_session": "imucarry.api",
    "write_scores": "imucarry.api",
}


def __getattr__(name: str) -> Any:
    """Import a public name when it is first used, so that ``imucarry --help`` is quick."""
    from importlib import import_module

    if name not in _HOMES:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module(_HOMES[name]), name)
