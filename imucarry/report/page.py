"""The page of one visit: one HTML file that needs nothing beside it."""

from __future__ import annotations

import base64
import re
from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import Final

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup, escape

from imucarry import __version__
from imucarry.basics.records import SessionScores
from imucarry.basics.settings import Settings
from imucarry.carry.cautions import CAUTIONS, STOP
from imucarry.carry.earlier import History
from imucarry.report.anonymous import as_code, history_as_code
from imucarry.report.assemble import assemble
from imucarry.report.figures.interactive import to_json
from imucarry.report.figures.style import DARK, LIGHT, css_rules, css_variables
from imucarry.report.heading import (
    heading,
    is_first_visit,
    sheet_foot,
    short_heading,
    window_title,
)
from imucarry.report.views import PageView
from imucarry.report.wording import texts
from imucarry.report.wording.numbers import number, unbroken

HERE: Final = Path(__file__).parent
BRIEF_TABLES: Final = 2
"""Of earlier visits, how many tables the short print has: heaviest loads and pain."""

STOP_SIGNS: Final = "; ".join(item.text for item in CAUTIONS if item.heading == STOP)
JOINT: Final = re.compile(r"([_/-])(?=\w)")
CODE: Final = re.compile(r"`([^`]+)`")
TEMPLATES: Final = HERE / "templates"
ENGINE: Final = HERE / "vendor" / "plotly-cartesian.min.js.gz"


def render(
    scores: SessionScores,
    settings: Settings,
    *,
    title: str = "",
    anonymous: bool = False,
    earlier: History | None = None,
) -> str:
    """Return the page of a visit as one HTML text.

    Parameters
    ----------
    scores : SessionScores
    settings : Settings
        Those that the scores were made with.
    title : str
        Heading of the page; "" for the person, the visit and its date.
    anonymous : bool
        Show the person as a code, and leave file names and notes out.
    earlier : History, optional
        This visit beside earlier ones, from `imucarry.carry.earlier.over_weeks`.

    Returns
    -------
    str
        HTML that asks nothing of any other place: styles, pictures, scripts inside.
    """
    shown = as_code(scores) if anonymous else scores
    if anonymous and earlier is not None:
        earlier = history_as_code(earlier, scores.session.participant)
    view = assemble(shown, settings, title=title, earlier=earlier)
    view = replace(view, engine=Markup(_engine()))
    limits = {
        "reduced": number(settings.carry.reduced_pct, 0),
        "minimal": number(settings.carry.minimal_pct, 0),
    }
    session, words = shown.session, texts.PAGE
    alone = earlier is None and is_first_visit(session)
    return environment().get_template("page.html").render(
        page=view,
        eyebrow=heading(session) if title else words["title"],
        window_title=title or window_title(session),
        followed_head=words["followed_tests" if alone else "followed"],
        w=words,
        lang=texts.LANGUAGE,
        anonymous=anonymous,
        scope=CAUTIONS[0].text,
        stop_at_once=words["stop_at_once"].format(signs=STOP_SIGNS),
        brief_tables=BRIEF_TABLES,
        choice=words["choice"].format(**limits),
        more_checks=words["more_checks"].format(n=len(view.more_checks)),
        sketch_title=texts.FIGURES["sketch"]["title"],
        contents=_contents(view),
        made_with=words["made_with"].format(version=__version__),
        css=Markup(style_sheet(short_heading(session))),
        js=Markup(_own_script()),
        script_words=Markup(to_json(texts.SCRIPT)),
    )  # fmt: skip


@cache
def environment() -> Environment:
    made = Environment(
        loader=FileSystemLoader(TEMPLATES),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        auto_reload=False,
        finalize=_finalized,
    )
    made.filters["coded"] = coded
    made.filters["breakable"] = breakable
    return made


def _finalized(value: object) -> object:
    """Plain text with its numbers kept beside their units; what is markup already, as it is."""
    return unbroken(value) if isinstance(value, str) and not isinstance(value, Markup) else value


def breakable(name: str) -> Markup:
    """A name whose line may end after ``_``, ``-`` and ``/``, so that its numbers stay whole."""
    return Markup(JOINT.sub(r"\1<wbr>", str(escape(name))))


def coded(words: str, strong: str = "") -> Markup:
    """Plain text as markup, what stands between backticks as code, what is `strong` once so."""
    said, answer = (str(escape(unbroken(text))) for text in (words, strong))
    if answer:
        said = said.replace(answer, f"<strong>{answer}</strong>", 1)
    return Markup(CODE.sub(r"<code>\1</code>", said))


def _engine() -> str:
    """The drawing library, packed: the page's script unpacks it on demand."""
    return base64.b64encode(ENGINE.read_bytes()).decode("ascii")


def _own_script() -> str:
    return (TEMPLATES / "page.js").read_text(encoding="utf-8")


def style_sheet(foot: str = "") -> str:
    """The style sheet with the palette, on white paper and in the dark.

    Parameters
    ----------
    foot : str
        What stands at the foot of each printed sheet, beside its number.
    """
    own = (TEMPLATES / "page.css").read_text(encoding="utf-8")
    light, dark = css_variables(LIGHT), css_variables(DARK)
    return (
        f":root{{{light}}}\n@media (prefers-color-scheme:dark){{:root{{{dark}}}}}\n"
        + css_rules()
        + "\n"
        + own.replace("PRINT_COLOURS", light)
        + sheet_foot(foot)
    )


def _contents(view: PageView) -> tuple[tuple[str, str], ...]:
    """Anchors and names of the parts that the page has."""
    words = texts.PAGE
    parts = (
        ("h-findings", True),
        ("pictures", bool(view.figures or view.ladders or view.sketches)),
        ("tables", True),
        ("dose", view.dose is not None),
        ("retest", view.retest is not None),
        ("earlier", bool(view.earlier)),
        ("cautions", True),
        ("quality", True),
        ("definitions", bool(view.definitions)),
    )
    names = {**words, "h-findings": words["per_bout"]}
    listed = [(anchor, names[anchor]) for anchor, there in parts if there]
    bouts = [(b.finding.anchor, b.finding.bout) for b in view.bouts]
    n_first = 1 + parts[1][1]
    return (*listed[:n_first], *bouts, *listed[n_first:])
