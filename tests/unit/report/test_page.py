"""The page as text: everything in it, nothing asked of anywhere, nothing unescaped."""

from __future__ import annotations

import json
import re
from dataclasses import replace
from html.parser import HTMLParser

import pytest
from scores_builder import build_scores, with_participant

from imucarry.basics.records import BoutResult, Notice, SessionScores
from imucarry.basics.settings import CarrySettings, Settings
from imucarry.carry.cautions import CAUTIONS
from imucarry.measures.table import MEASURES
from imucarry.report.anonymous import person_code
from imucarry.report.assemble import assemble
from imucarry.report.ladder_table import ladder_answers
from imucarry.report.page import render
from imucarry.report.wording import say, say_ladder, terminal_lines

POLICY = (
    "default-src 'none'; script-src 'unsafe-inline'; style-src 'unsafe-inline'; img-src data: blob:"
)
HOSTILE = (
    "<img src=x onerror=alert(1)>",
    "</script><script>alert(1)</script>",
    "\"'><svg onload=alert(1)>",
    "{{ 7*7 }}{% raw %}",
    "]]>--><!--",
    "a\u2028b\u2029c",
    "{0}{name}%s%(x)s",
)


class Reader(HTMLParser):
    """Elements, text, and what is not closed."""

    VOID = frozenset({"meta", "br", "wbr", "img", "input", "link", "hr"})

    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.open: list[str] = []
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.text: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))
        if tag not in self.VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))

    def handle_endtag(self, tag: str) -> None:
        assert self.open, f"</{tag}> closes nothing"
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        if not self.open or self.open[-1] not in ("script", "style"):
            self.text.append(data)


def read(page: str) -> Reader:
    reader = Reader()
    reader.feed(page)
    reader.close()
    assert reader.open == []
    return reader


def words_of(page: str) -> str:
    return " ".join(" ".join(read(page).text).split())


def script(page: str, name: str) -> str:
    found = re.search(rf'id="{name}">(.*?)</script>', page, re.DOTALL)
    assert found is not None
    return found[1]


def test_page_is_well_formed_and_has_the_policy(page: str) -> None:
    reader = read(page)
    policies = [
        attrs["content"]
        for tag, attrs in reader.tags
        if tag == "meta" and attrs.get("http-equiv") == "Content-Security-Policy"
    ]
    assert policies == [POLICY]
    assert reader.tags[0][0] == "html"
    assert reader.tags[0][1]["lang"] == "en"


def test_nothing_is_fetched(page: str) -> None:
    for tag, attrs in read(page).tags:
        assert tag not in ("link", "iframe", "object", "embed", "img", "base", "form")
        assert "src" not in attrs
        if "href" in attrs:
            assert (attrs["href"] or "").startswith("#")
    style = re.search(r"<style>(.*?)</style>", page, re.DOTALL)
    assert style is not None
    assert "url(" not in style[1]
    assert "@import" not in style[1]


def test_every_link_has_its_place_and_ids_are_unique(page: str) -> None:
    reader = read(page)
    ids = [attrs["id"] for _, attrs in reader.tags if "id" in attrs]
    assert len(ids) == len(set(ids))
    targets = {(attrs["href"] or "")[1:] for _, attrs in reader.tags if "href" in attrs}
    assert targets <= set(ids)
    described = [attrs["aria-labelledby"] or "" for _, attrs in reader.tags
                 if "aria-labelledby" in attrs]  # fmt: skip
    assert {name for names in described for name in names.split()} <= set(ids)


def test_findings_ladder_and_checks_stand_first(page: str, scores: SessionScores) -> None:
    text = words_of(page.replace("<strong>", "").replace("</strong>", ""))
    first = text[: text.index("Pictures")]
    for bout in scores.bouts:
        assert say.rotation(scores, bout) in first
    table = ladder_answers(scores)
    assert table is not None
    for row in table.rows:
        assert row.head in first
        assert all(cell.value in first for cell in row.cells)
    assert "The wrist sensors look swapped." in first


def test_every_score_is_plain_text(page: str, scores: SessionScores) -> None:
    text = words_of(page)
    for bout in scores.bouts:
        for score in bout.scores:
            found = score.estimate
            shown = say.reason(found.missing_because) if found.missing_because else ""
            assert shown in text
    labels = {m.id: m.label for m in MEASURES}
    for measure in {s.measure for b in scores.bouts for s in b.scores}:
        assert labels.get(measure, measure.replace("_", " ")) in text


def test_measures_link_to_their_definitions(page: str, scores: SessionScores) -> None:
    used = {s.measure for b in scores.bouts for s in (*b.scores, *b.comparison.scores)}
    for measure in MEASURES:
        if measure.id in used:
            assert f'href="#def-{measure.id}"' in page
            assert " ".join(measure.definition.split()) in words_of(page)


def test_every_caution_is_on_the_page(page: str) -> None:
    text = words_of(page)
    for caution in CAUTIONS:
        assert caution.text in text
        assert caution.source in text


def test_every_picture_has_title_finding_caption_and_table(page: str) -> None:
    figures = re.findall(r"<figure data-figure=.*?</figure>", page, re.DOTALL)
    assert len(figures) > 20
    for figure in figures:
        for part in ("<h3", 'class="f-found"', "<figcaption>", "<table>", "<svg", "<caption>"):
            assert part in figure


def test_every_interactive_figure_has_its_still_one(page: str) -> None:
    data = json.loads(script(page, "figure-data"))
    assert set(data) == set(re.findall(r'data-figure="([^"]+)"', page))


@pytest.mark.parametrize("hostile", HOSTILE)
def test_hostile_text_stays_text_in_every_field(hostile: str) -> None:
    scores = with_participant(build_scores(text=hostile), hostile)
    page = render(scores, Settings(), title=hostile)
    reader = read(page)
    names = {tag for tag, _ in reader.tags}
    assert "img" not in names
    assert not any(key.startswith("on") for _, attrs in reader.tags for key in attrs)
    assert sum(tag == "script" for tag, _ in reader.tags) == 4
    assert hostile in "".join(reader.text)
    assert "<" not in script(page, "figure-data")
    json.loads(script(page, "figure-data"))


def test_a_bout_may_be_called_anything() -> None:
    scores = build_scores(text="</title><b>", wrists=())
    assert "<b>suitcase" not in render(scores, Settings())


@pytest.mark.parametrize(
    "scores",
    [
        build_scores(chest=False),
        build_scores(wrists=()),
        build_scores(wrists=("right",)),
        build_scores(visit=()),
        replace(build_scores(), retest=(), ladder=(), notices=()),
    ],
    ids=["no chest", "no wrists", "one wrist", "no bouts", "bare"],
)
def test_a_visit_with_less_is_still_a_page(scores: SessionScores) -> None:
    text = words_of(render(scores, Settings()))
    assert "nan" not in text.split()
    assert "None" not in text.split()


def test_no_chest_sensor_is_said_not_guessed() -> None:
    text = words_of(render(build_scores(chest=False), Settings()))
    assert "No chest sensor was worn" in text
    assert "The trunk swung through" not in text


def test_thresholds_on_the_page_are_those_of_the_settings(scores: SessionScores) -> None:
    settings = Settings(carry=CarrySettings(reduced_pct=81.0, minimal_pct=33.0))
    text = words_of(render(scores, settings))
    assert "The lines at 81 % and 33 % are choices of this program" in text
    # The heading follows the link to it, and is followed by that of the contents.
    assert "75 %" not in text.split("What was found, bout by bout")[2]


def test_many_checks_are_shortened_above_and_kept_below(scores: SessionScores) -> None:
    notices = tuple(Notice(f"c{k}", f"thing {k} is odd", severity="check") for k in range(9))
    page = render(replace(scores, notices=notices), Settings())
    on_screen = re.sub('<li class="printed">.*?</li>', "", page)
    text = words_of(on_screen)
    top = text[: text.index("Pictures")]
    assert "more among the notes" in top
    assert "Thing 8 is odd" not in top
    assert '<li class="printed">Thing 8 is odd.</li>' in page
    assert "Thing 8 is odd" in text


def test_one_notice_is_told_once(scores: SessionScores) -> None:
    notice = Notice("x", "the same thing everywhere", severity="check")
    bouts = tuple(_with_notice(bout, notice) for bout in scores.bouts)
    text = words_of(render(replace(scores, bouts=bouts), Settings()))
    assert text.count("The same thing everywhere.") == 1


def _with_notice(bout: BoutResult, notice: Notice) -> BoutResult:
    return replace(bout, notices=(notice,))


def test_the_table_of_notes_says_how_a_bout_ended(scores: SessionScores) -> None:
    bout = scores.bouts[1]
    row = replace(bout.data.row, stop_reason="completed", rpe_0_10=3.0)
    told = replace(bout, data=replace(bout.data, row=row))
    shown = assemble(replace(scores, bouts=(scores.bouts[0], told)), Settings(), title="",
                     earlier=None)  # fmt: skip
    assert shown.dose is not None
    assert "how it ended" in shown.dose.heads
    assert "stopped because" not in shown.dose.heads


def test_title_is_the_heading(scores: SessionScores) -> None:
    reader = read(render(scores, Settings(), title="Spring & summer"))
    assert reader.text.count("Spring & summer") == 2


def test_anonymous_shows_a_code_and_no_name_anywhere() -> None:
    scores = with_participant(build_scores(), "Ada Quill")
    notice = Notice("a", "ada quill has no clock", "ada_quill.csv", severity="check")
    bouts = tuple(
        replace(bout, comparison=replace(bout.comparison, notices=(notice,)))
        for bout in scores.bouts
    )
    noisy = replace(scores, bouts=bouts, notices=(notice,))
    page = render(noisy, Settings(), anonymous=True)
    assert "quill" not in page.lower()
    assert "ada_quill" not in page
    assert "chest.csv" not in page
    assert person_code("Ada Quill") in page
    assert "shown by a code" in page


def test_a_short_name_does_not_spoil_other_words() -> None:
    scores = with_participant(build_scores(), "1")
    text = words_of(render(scores, Settings(), anonymous=True))
    assert person_code("1") in text
    assert "free 1" in text


def test_codes_differ_between_people_and_not_between_visits() -> None:
    assert person_code("Ada Quill") == person_code("Ada Quill")
    assert person_code("Ada Quill") != person_code("Ada Quilt")


def test_same_scores_give_the_same_bytes(page: str) -> None:
    assert render(build_scores(), Settings()) == page


def test_eight_bouts_and_three_sensors_stay_under_the_size() -> None:
    scores = build_scores(rate_hz=100.0)
    assert (len(scores.bouts), len(scores.sensors)) == (8, 3)
    assert len(render(scores, Settings()).encode()) < 2_500_000


@pytest.mark.parametrize(
    ("change", "strong"),
    [
        ({"answer": "kept_up_to", "heaviest_kept_kg": 8.0, "next_kg": 16.0}, "up to 8 kg"),
        ({"answer": "not_yet_reached", "heaviest_kept_kg": 24.0}, "up to 24 kg"),
        ({"answer": "no_baseline"}, "no answer"),
        ({"answer": "one_load_only", "loads_kg": (6.0,), "kept_pct": (90.0,),
          "ci_low_pct": (80.0,), "ci_high_pct": (99.0,), "fit_pct": (), "fit_low_pct": (),
          "fit_high_pct": ()}, "clearly above 75 %"),
    ],
)  # fmt: skip
def test_the_answer_of_a_ladder_stands_out(
    scores: SessionScores, change: dict[str, object], strong: str
) -> None:
    rung = replace(scores.ladder[0], **change)  # type: ignore[arg-type]
    page = render(replace(scores, ladder=(rung,)), Settings()).replace("\u00a0", " ")
    box = page.partition('id="h-ladder"')[2].partition("</section>")[0]
    assert box.count("<strong>") == 1
    assert f"<strong>{strong}</strong>" in box


@pytest.mark.parametrize(("n_more", "in_card"), [(0, False), (9, True)])
def test_that_load_and_order_rise_together_is_said_once_where_its_check_is_shown(
    scores: SessionScores, n_more: int, in_card: bool
) -> None:
    rises = Notice("load_and_order_rise_together", "load and order rise together", severity="check")
    rung = replace(scores.ladder[0], answer="kept_up_to", heaviest_kept_kg=8.0, next_kg=16.0,
                   notices=(rises,))  # fmt: skip
    assert "Loads went from light to heavy" in say_ladder.ladder(rung)
    more = tuple(Notice("speed_differs", f"{'x' * k} differs", severity="check")
                 for k in range(1, n_more + 1))  # fmt: skip
    bout = scores.bouts[0]
    told = replace(bout, notices=more)
    visit = replace(scores, ladder=(rung,), bouts=(told, *scores.bouts[1:]))
    view = assemble(visit, Settings(), title="", earlier=None)
    said = " ".join(words for words, _ in view.ladder)
    assert ("Loads went from light to heavy" in said) == in_card
    assert any("Load and order rise" in c.message for c in (*view.checks, *view.more_checks))
    assert not any("Load rose with" in line for line in terminal_lines(visit))
