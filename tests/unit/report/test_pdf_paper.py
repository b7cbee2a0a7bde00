"""Printing to a PDF and figures for papers."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest
from scores_builder import build_scores

from imucarry.basics.errors import OutputError
from imucarry.basics.records import SessionScores
from imucarry.report import pdf
from imucarry.report.paper import write_figures


def test_without_a_browser_the_error_says_what_to_do(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(pdf, "find_browser", lambda: None)
    with pytest.raises(OutputError, match="install one, or open the page"):
        pdf.print_page(tmp_path / "report.html", tmp_path / "report.pdf")


def test_a_browser_that_does_not_print_is_an_error(tmp_path: Path) -> None:
    page = tmp_path / "report.html"
    page.write_text("<p>x</p>", encoding="utf-8")
    (tmp_path / "report.pdf").write_bytes(b"of an earlier page")
    with pytest.raises(OutputError, match="did not print"):
        pdf.print_page(page, tmp_path / "report.pdf", browser=sys.executable)


def test_a_browser_that_cannot_start_is_an_error(tmp_path: Path) -> None:
    with pytest.raises(OutputError, match="could not print"):
        pdf.print_page(tmp_path / "a.html", tmp_path / "a.pdf", browser=str(tmp_path / "none"))


def test_the_first_name_that_is_found_is_used() -> None:
    found = pdf.find_browser(lambda name: "/x/" + name if "chrome" in name else None)
    assert found == "/x/google-chrome"


def test_figures_are_written_twice_the_same(tmp_path: Path) -> None:
    pytest.importorskip("matplotlib", reason="the extra 'figures' is not installed")
    scores = _short()
    folders = (tmp_path / "a", tmp_path / "b")
    for folder in folders:
        folder.mkdir()
    names = write_figures(scores, folders[0])
    assert write_figures(scores, folders[1]) == names
    assert "figure_rotation.png" in names
    assert "figure_rotation.svg" in names
    for name in names:
        assert (folders[0] / name).read_bytes() == (folders[1] / name).read_bytes()
    assert (folders[0] / "figure_rotation.png").read_bytes().startswith(b"\x89PNG")


def test_text_that_looks_like_a_formula_is_drawn_as_text(tmp_path: Path) -> None:
    pytest.importorskip("matplotlib", reason="the extra 'figures' is not installed")
    scores = build_scores(text="$\\frac", visit=())
    assert write_figures(scores, tmp_path)


def _short() -> SessionScores:
    from scores_builder import VISIT

    return build_scores(visit=VISIT[:2])


def test_importing_the_module_does_not_import_the_library() -> None:
    code = "import sys, imucarry.report.paper; assert 'matplotlib' not in sys.modules"
    done = subprocess.run([sys.executable, "-c", code], check=False)
    assert done.returncode == 0
