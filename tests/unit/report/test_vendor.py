"""The drawing library that the page carries is the one that it says it is."""

from __future__ import annotations

import gzip
import hashlib
import json
import subprocess
import sys
from pathlib import Path

import pytest
import update_plotly

from imucarry.report.page import ENGINE

VENDOR = ENGINE.parent
ABOUT = json.loads((VENDOR / "plotly.json").read_text(encoding="utf-8"))


def test_hashes_are_those_of_the_files() -> None:
    packed = ENGINE.read_bytes()
    assert ENGINE.name == ABOUT["file"]
    assert hashlib.sha256(packed).hexdigest() == ABOUT["sha256_packed"]
    assert hashlib.sha256(gzip.decompress(packed)).hexdigest() == ABOUT["sha256_script"]


def test_major_version_is_the_one_that_the_python_package_expects() -> None:
    from plotly.offline import get_plotlyjs_version

    assert ABOUT["version"].split(".")[0] == get_plotlyjs_version().split(".")[0]
    assert f"v{ABOUT['version']}".encode() in gzip.decompress(ENGINE.read_bytes())[:200]


def test_its_licence_is_beside_it() -> None:
    licence = (VENDOR / "LICENSE-plotly.txt").read_text(encoding="utf-8")
    assert licence.startswith("MIT License")
    assert "Plotly" in licence


def test_its_script_can_stand_in_a_script_element() -> None:
    script = gzip.decompress(ENGINE.read_bytes()).lower()
    assert b"</script" not in script
    assert b"<!--" not in script


def test_rendering_imports_no_drawing_library() -> None:
    code = (
        "import sys; sys.path.insert(0, sys.argv[1]);"
        "from scores_builder import build_scores;"
        "from imucarry.basics.settings import Settings;"
        "from imucarry.report.page import render;"
        "render(build_scores(), Settings());"
        "heavy = {'plotly', 'matplotlib', 'pandas', 'scipy.signal', 'scipy.stats'};"
        "assert not heavy & set(sys.modules), heavy & set(sys.modules)"
    )
    tests = Path(__file__).parents[2]
    done = subprocess.run(
        [sys.executable, "-c", code, str(tests)], capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stderr


def test_writing_the_bundle_twice_gives_the_same_bytes(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(update_plotly, "VENDOR", tmp_path / "vendor")
    written = []
    for _ in range(2):
        update_plotly.write("9.9.9", b"var x = 1;", b"MIT License")
        written.append({p.name: p.read_bytes() for p in (tmp_path / "vendor").iterdir()})
    assert written[0] == written[1]
    about = json.loads(written[0]["plotly.json"])
    assert gzip.decompress(written[0][about["file"]]) == b"var x = 1;"
    assert set(about) == set(ABOUT)
