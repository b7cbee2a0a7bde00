"""Colours, dashes and marker shapes of every picture, in one place.

What a line is can be told without colour: each has a dash or a marker shape of
its own. The colours are picked for a contrast of at least 3:1 against the paper
(a test computes it), light and dark; areas carry no meaning by colour alone.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

LIGHT: Final[dict[str, str]] = {
    "paper": "#fcfbf8",
    "sheet": "#ffffff",
    "ink": "#1c1b19",
    "soft": "#57544e",
    "hair": "#d9d5cc",
    "edge": "#8b867b",
    "wash": "#f1eee6",
    "torso": "#1a1a1a",
    "left": "#0b62a0",
    "right": "#b04a00",
    "free": "#6b6f76",
    "free_area": "#dfe2e6",
    "torso_area": "#d8d4cb",
    "left_area": "#cfe3f1",
    "right_area": "#f6ddcb",
    "mark": "#7a1f4b",
    "link": "#0b4f80",
}
"""Colours on white paper, by the name of what they are for."""

DARK: Final[dict[str, str]] = {
    "paper": "#171816",
    "sheet": "#1e1f1d",
    "ink": "#ece9e2",
    "soft": "#b9b5ab",
    "hair": "#3a3b37",
    "edge": "#87857c",
    "wash": "#272824",
    "torso": "#f2efe8",
    "left": "#6db8ee",
    "right": "#f0a066",
    "free": "#a3a8b0",
    "free_area": "#34383d",
    "torso_area": "#43413b",
    "left_area": "#21415a",
    "right_area": "#5a3a22",
    "mark": "#ee8fbd",
    "link": "#8cc6f2",
}
"""The same on a dark screen."""


@dataclass(frozen=True, slots=True)
class Style:
    """How a mark looks: a colour by name, a dash (SVG lengths), a marker shape."""

    colour: str
    dash: str = ""
    width: float = 1.6
    marker: str = "circle"
    hollow: bool = False
    size: float = 2.2


STYLES: Final[dict[str, Style]] = {
    "torso": Style("torso"),
    "torso_band": Style("torso_area"),
    "left": Style("left", dash="7 3", marker="square"),
    "left_held": Style("left", dash="7 3", marker="square", hollow=True),
    "left_band": Style("left_area"),
    "right": Style("right", dash="2 2.5", marker="triangle"),
    "right_held": Style("right", dash="2 2.5", marker="triangle", hollow=True),
    "right_band": Style("right_area"),
    "free": Style("free", dash="9 3 2 3", width=1.5),
    "free_band": Style("free_area"),
    "mean": Style("torso", width=2.0, marker="diamond", size=4.2),
    "mean_open": Style("torso", width=2.0, marker="diamond", hollow=True, size=4.2),
    "mean_left": Style("left", width=2.0, marker="square", size=3.8),
    "mean_left_held": Style("left", width=2.0, marker="square", hollow=True, size=3.8),
    "mean_right": Style("right", width=2.0, marker="triangle", size=4.4),
    "mean_right_held": Style("right", width=2.0, marker="triangle", hollow=True, size=4.4),
    "before": Style("torso", width=1.4, hollow=True, size=4.0),
    "left_out": Style("mark", width=1.2, marker="cross", size=3.0),
    "limit": Style("mark", dash="5 3", width=1.2),
    "between": Style("edge", dash="1 3", width=1.0),
    "raw_x": Style("left", dash="7 3", width=0.9),
    "raw_y": Style("right", dash="2 2.5", width=0.9),
    "raw_z": Style("torso", width=0.9),
    "gap": Style("right_area"),
    "pair": Style("left", marker="point", size=1.6),
    "one_of_many": Style("torso", marker="point", size=2.2),
    "one_open": Style("torso", hollow=True, size=2.4),
}
"""Every style a mark may name."""


def css_variables(palette: dict[str, str]) -> str:
    """The palette as CSS custom properties."""
    return "".join(f"--{name}:{colour};" for name, colour in palette.items())


def css_rules() -> str:
    """The rules that give each style its look inside an SVG."""
    rules = []
    for name, style in STYLES.items():
        colour = f"var(--{style.colour})"
        dash = f"stroke-dasharray:{style.dash};" if style.dash else ""
        fill = "var(--sheet)" if style.hollow else colour
        rules.append(f".l-{name}{{stroke:{colour};stroke-width:{style.width};{dash}fill:none}}")
        if style.marker == "point":
            width = f"{2 * style.size:g};stroke-linecap:round"
            rules.append(f".d-{name}{{stroke:{colour};stroke-width:{width};fill:none}}")
        else:
            rules.append(f".d-{name}{{stroke:{colour};stroke-width:1.1;fill:{fill}}}")
        # An area's edge tells it without colour: the area itself is pale.
        edge = f"var(--{style.colour.removesuffix('_area')})"
        rules.append(f".a-{name}{{fill:{colour};stroke:{edge};stroke-width:.5}}")
    return "\n".join(rules)
