"""The public surface is pinned: a name comes or goes on purpose only."""

from __future__ import annotations

import subprocess
import sys
from dataclasses import is_dataclass
from pathlib import Path
from typing import get_type_hints

import pytest

import imucarry

EXAMPLE = Path(__file__).parents[2] / "data" / "example"


def test_public_names() -> None:
    assert imucarry.__all__ == [
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
    assert all(hasattr(imucarry, name) for name in imucarry.__all__)


def test_public_names_are_seen_before_they_are_used() -> None:
    code = "import sys, imucarry; sys.exit(not set(imucarry.__all__) <= set(dir(imucarry)))"
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0


@pytest.mark.parametrize("name", sorted(set(imucarry.__all__) - {"__version__"}))
def test_the_types_of_a_public_name_can_be_read(name: str) -> None:
    hints = get_type_hints(getattr(imucarry, name))
    assert hints or name == "ImucarryError"
    for kind in hints.values():
        if is_dataclass(kind):
            assert get_type_hints(kind)


def test_no_docstring_sends_the_reader_to_a_file_that_is_not_there() -> None:
    sources = Path(imucarry.__file__).parent.rglob("*.py")
    assert [
        path.name for path in sources if "the contract" in path.read_text(encoding="utf-8")
    ] == []


def test_a_wrong_name_fails() -> None:
    assert not hasattr(imucarry, "no_such_name")


def test_help_imports_nothing_heavy() -> None:
    code = (
        "import sys; from imucarry.cli.app import exit_code; assert exit_code(['--help']) == 0; "
        "heavy = {'numpy', 'scipy', 'pandas', 'ahrs', 'plotly', 'jinja2'} & set(sys.modules); "
        "sys.exit(f'imported: {heavy}' if heavy else 0)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr


# Each costs more to import than a bout costs to score.
NOT_TO_SCORE = ["ahrs", "plotly", "matplotlib", "scipy.fft", "scipy.ndimage"]
NOT_TO_SCORE += ["scipy.signal", "scipy.stats"]
NOT_WITHOUT_A_PAGE = ["jinja2", "imucarry.report.page", "imucarry.report.assemble"]


@pytest.mark.parametrize(
    ("work", "kept_out"),
    [
        ("imucarry.score_session(sys.argv[1])", [*NOT_TO_SCORE, *NOT_WITHOUT_A_PAGE]),
        ("exit_code(['score', sys.argv[1], '--out', sys.argv[2], '-q'])", NOT_TO_SCORE),
    ],
)
def test_scoring_imports_nothing_it_does_not_need(
    work: str, kept_out: list[str], tmp_path: Path
) -> None:
    code = (
        f"import sys, imucarry; from imucarry.cli.app import exit_code; {work}; "
        f"found = sorted(set({kept_out!r}) & set(sys.modules)); "
        "sys.exit(f'imported: {found}' if found else 0)"
    )
    command = [sys.executable, "-c", code, str(EXAMPLE), str(tmp_path / "out")]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
