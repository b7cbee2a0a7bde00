"""The public surface is pinned: a name comes or goes on purpose only."""

from __future__ import annotations

import subprocess
import sys

import imucarry


def test_public_names() -> None:
    assert imucarry.__all__ == [
        "ImucarryError",
        "ScoredSession",
        "Settings",
        "__version__",
        "read_settings",
        "score_session",
        "write_scores",
    ]
    assert all(hasattr(imucarry, name) for name in imucarry.__all__)


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
