"""The examples that people copy: in the README and in the docstrings of the library's face."""

from __future__ import annotations

import doctest
import re
from pathlib import Path

import pytest
import readme

import imucarry
import imucarry.api.results
import imucarry.api.session
import imucarry.basics.settings.rooms
from imucarry.tables.schema import TABLE

ROOT = Path(__file__).parents[2]
README = (ROOT / "README.md").read_text(encoding="utf-8")
BLOCKS = re.findall(r"```python\n(.*?)```", README, flags=re.DOTALL)


@pytest.mark.parametrize(
    "module",
    [imucarry, imucarry.api.session, imucarry.api.results, imucarry.basics.settings.rooms],
)
def test_examples_of_docstrings(module: object, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(ROOT)
    found = doctest.testmod(module)  # type: ignore[arg-type]
    assert found.attempted > 0
    assert found.failed == 0


def test_the_readme_has_an_example() -> None:
    assert BLOCKS


@pytest.mark.parametrize("block", BLOCKS)
def test_examples_of_the_readme(
    block: str, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(ROOT)
    exec(compile(block, "README.md", "exec"), {})
    assert capsys.readouterr().out


def test_the_readmes_model_leaves_out_bouts_that_lack_one_of_its_numbers() -> None:
    (formula,) = re.findall(r'mixedlm\("([^"]+)"', README)
    (kept,) = re.findall(r"\.dropna\(subset=\[([^\]]+)\]\)", README)
    kinds = {column.name: column.kind for column in TABLE["bout_summary"].columns}
    terms = re.findall(r"\w+", formula)
    assert len(terms) == 3
    assert set(re.findall(r"\w+", kept)) == {term for term in terms if kinds[term] == "number"}


def test_every_file_that_the_readme_links_is_there() -> None:
    links = re.findall(r"\]\((?!http|#)([^)]+)\)", README)
    assert links
    assert [link for link in links if not (ROOT / link).exists()] == []


def test_the_readmes_table_of_measures_is_that_of_the_registry() -> None:
    after_start = README.split("<!-- measures:start -->")[1]
    shown = after_start.split("<!-- measures:end -->")[0].strip()
    assert shown == readme.measures().strip(), "run python scripts/readme.py"
