"""What the templates show: plain records without any logic."""

from __future__ import annotations

from dataclasses import dataclass

from markupsafe import Markup

from imucarry.carry.cautions import Caution


@dataclass(frozen=True, slots=True)
class Cell:
    """One cell of a table: a value and, below it, its interval or the reason why it is missing."""

    value: str
    below: str = ""
    missing: bool = False
    marks: str = ""


@dataclass(frozen=True, slots=True)
class TableRow:
    """One row; `key` names a definition that its heading links to, "" for none."""

    head: str
    cells: tuple[Cell, ...]
    key: str = ""
    unit: str = ""


@dataclass(frozen=True, slots=True)
class Table:
    """A table with a caption; `heads` are the columns after the row's own heading.

    `below` has smaller words under each head, () for none.
    """

    caption: str
    corner: str
    heads: tuple[str, ...]
    rows: tuple[TableRow, ...]
    notes: tuple[str, ...] = ()
    below: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class FigureView:
    """A picture with everything that stands around it."""

    key: str
    title: str
    finding: str
    caption: str
    svg: Markup
    legend: tuple[tuple[Markup, str], ...]
    table: Table


@dataclass(frozen=True, slots=True)
class FindingView:
    """One bout in the summary."""

    anchor: str
    bout: str
    hold: str
    mark: str
    glyph: Markup
    rotation: str
    arms: str
    aim: str
    dose: str
    reading: str
    certainty: str
    strip: Markup


@dataclass(frozen=True, slots=True)
class CheckView:
    """Something to look at."""

    about: str
    message: str
    code: str = ""


@dataclass(frozen=True, slots=True)
class BoutView:
    """One bout's own part of the page."""

    finding: FindingView
    figures: tuple[FigureView, ...]
    trace: FigureView | None


@dataclass(frozen=True, slots=True)
class SketchView:
    """One plan sketch with its words."""

    svg: Markup
    words: str


@dataclass(frozen=True, slots=True)
class DefinitionView:
    """What a measure means."""

    key: str
    label: str
    unit: str
    definition: str
    source: str


@dataclass(frozen=True, slots=True)
class PageView:
    """The whole page."""

    title: str
    who: tuple[tuple[str, str], ...]
    findings: tuple[FindingView, ...]
    strip_head: Markup
    strip_words: str
    strip_how: str
    ladder_head: str
    ladder: tuple[tuple[str, str], ...]  # sentences, with the words of each that answer
    ladder_answers: Table | None
    alarms: tuple[CheckView, ...]
    alarm_pointer: str
    checks: tuple[CheckView, ...]
    more_checks: tuple[CheckView, ...]
    checks_across: bool
    figures: tuple[FigureView, ...]
    ladders: tuple[FigureView, ...]
    sketches: tuple[SketchView, ...]
    sketch_caption: str
    bouts: tuple[BoutView, ...]
    tables: tuple[Table, ...]
    retest: Table | None
    tests_on_top: Table | None
    retest_figure: FigureView | None
    retest_said: tuple[str, ...]
    earlier: tuple[Table, ...]
    earlier_notes: tuple[str, ...]
    over_weeks: Table | None
    followed: tuple[str, ...]
    dose: Table | None
    quality: Table | None
    understood: tuple[Table, ...]
    notes: tuple[CheckView, ...]
    settings: tuple[Table, ...]
    definitions: tuple[DefinitionView, ...]
    cautions: tuple[tuple[str, tuple[Caution, ...]], ...]
    interactive: Markup
    engine: Markup
