"""The library's functions beside scoring: shoulder tests, exports, the demo."""

from __future__ import annotations

import errno
import json
from dataclasses import replace
from pathlib import Path

import pytest
from command_line import imucarry

from imucarry import (
    CarrySettings,
    Settings,
    export_session,
    retest_file,
    write_demo_session,
)
from imucarry.basics.errors import OutputError, SettingsError
from imucarry.simulate import demo
from imucarry.simulate.session import SimulatedSession, simulate_session

EXAMPLE = Path(__file__).parents[3] / "data" / "example"


@pytest.fixture(scope="module")
def simulated() -> SimulatedSession:
    spec = demo.demo_spec(rate_hz=50.0)
    return simulate_session(replace(spec, bouts=spec.bouts[:1], quiet_s=5.0), 3)


@pytest.mark.parametrize("mdc_deg", [float("nan"), float("inf"), 0.0, -3.0])
def test_an_error_of_no_degrees_is_refused(mdc_deg: float) -> None:
    with pytest.raises(SettingsError, match="mdc_deg must be a number of degrees above 0"):
        retest_file(EXAMPLE / "rom.csv", mdc_deg=mdc_deg)


def test_readings_of_one_sitting_that_lie_far_apart_are_told_of_a_sheet_alone(
    tmp_path: Path,
) -> None:
    sheet = tmp_path / "rom.csv"
    rows = [("before", 80), ("before", 110), ("before", 95), ("after", 90), ("after", 91)]
    told = "".join(f"flexion,left,{when},{value}\n" for when, value in rows)
    sheet.write_text(f"test,side,when,value_deg\n{told}")
    done = imucarry("retest", sheet)
    assert "differ by up to 30 deg: repeat the test" in " ".join(done.stdout.split())
    assert "check: Flexion left" in done.stdout
    (told_too,) = json.loads(imucarry("retest", sheet, "--json").stdout)["notices"]
    assert told_too["message"].removeprefix("flexion") in " ".join(done.stdout.split())
    sheet.write_text(sheet.read_text().replace("110", "82").replace("95", "81"))
    assert "check" not in imucarry("retest", sheet).stdout


def test_an_export_of_another_name_is_refused_with_the_names(tmp_path: Path) -> None:
    with pytest.raises(OutputError, match=r"no export 'nope'; known: motion-bids"):
        export_session(EXAMPLE, tmp_path / "out", target="nope")
    assert not (tmp_path / "out").exists()


def test_an_export_is_scored_with_the_settings(tmp_path: Path) -> None:
    found = {}
    for reduced_pct in (75.0, 90.0):
        out = tmp_path / f"{reduced_pct:g}"
        settings = Settings(carry=CarrySettings(reduced_pct=reduced_pct))
        export_session(EXAMPLE, out, target="motion-bids", settings=settings)
        (ladder,) = out.rglob("*ladder*.csv")
        found[reduced_pct] = ladder.read_text(encoding="utf-8")
    assert "90" in found[90.0]
    assert found[75.0] != found[90.0]


def test_a_demo_that_cannot_be_written_whole_leaves_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, simulated: SimulatedSession
) -> None:
    monkeypatch.setattr(demo, "simulate_session", lambda spec, seed: simulated)
    folder = tmp_path / "visit"
    write_demo_session(folder)
    before = {path.name: path.read_bytes() for path in folder.iterdir()}
    assert set(before) == set(demo.FILES)

    def full(written: object, place: Path, *, heading: str) -> None:
        (place / "chest.csv").write_text("half", encoding="utf-8")
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(demo, "write_session", full)
    for place in (folder, tmp_path / "new"):
        with pytest.raises(OutputError, match="the disk is full; nothing was changed"):
            write_demo_session(place)
    assert {path.name: path.read_bytes() for path in folder.iterdir()} == before
    assert [path.name for path in tmp_path.iterdir()] == ["visit"]
