"""Options that no command can use are wrong usage."""

from __future__ import annotations

from pathlib import Path

import pytest

from imucarry.cli.app import DONE, WRONG_USAGE, exit_code

ROM = str(Path(__file__).parents[3] / "data" / "example" / "rom.csv")


@pytest.mark.parametrize(
    ("mdc", "code"),
    [("8", DONE), ("nan", WRONG_USAGE), ("inf", WRONG_USAGE), ("0", WRONG_USAGE), ("-1", 2)],
)
def test_an_error_of_no_degrees_is_wrong_usage(
    mdc: str, code: int, capsys: pytest.CaptureFixture[str]
) -> None:
    assert exit_code(["retest", ROM, "--mdc", mdc]) == code
    said = capsys.readouterr()
    assert bool(said.out) is (code == DONE)
    assert ("--mdc" in said.err) is (code == WRONG_USAGE)
