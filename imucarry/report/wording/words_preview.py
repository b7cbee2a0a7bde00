"""Words of the preview of files."""

from __future__ import annotations

from typing import Final

PREVIEW: Final[dict[str, str]] = {
    "no_placement": "placement not told by the name; say it in session.toml",
    "time": "time: {rule}",
    "rate": "rate {rate} Hz, jitter {jitter} ms, {duration} s, {rows} rows",
    "gaps": "gaps: {bridged} bridged, {longer} longer (longest {longest} s); clipped {clipped} %",
    "rest": "at rest the acceleration is x {x}, y {y}, z {z} m/s^2 (it points up)",
    "short": "{placement}: {files}, {rate} Hz, {duration} s, {units}",
    "no_rest": "the sensor is never at rest",
}
