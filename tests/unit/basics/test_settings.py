"""Every setting has a range, checked when a file is read and when settings are made in Python."""

from __future__ import annotations

from dataclasses import fields, replace
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from imucarry.basics.errors import SettingsError
from imucarry.basics.records import SessionScores
from imucarry.basics.settings import (
    CarrySettings,
    MotionSettings,
    Settings,
    as_tree,
    read_settings,
)
from imucarry.pipeline import run
from imucarry.readers.session import read_session

EXAMPLE = Path(__file__).parents[3] / "data" / "example"
TREE = as_tree(Settings())
NAMES = [(table, name) for table, values in TREE.items() for name in values]
NUMBERS = [
    (table, name)
    for table, name in NAMES
    if isinstance(TREE[table][name], int | float) and not isinstance(TREE[table][name], bool)
]
WRONG_TYPE = {float: '"much"', int: "1.5", str: "3", bool: "1"}


def read(folder: Path, text: str) -> Settings:
    path = folder / "lab.toml"
    path.write_text(text, encoding="utf-8")
    return read_settings(path)


def range_of(table: str, name: str) -> tuple[float, float]:
    item = next(item for item in fields(getattr(Settings(), table)) if item.name == name)
    least, most = item.metadata["range"]
    return least, most


@pytest.mark.parametrize(("table", "name"), NUMBERS)
@pytest.mark.parametrize(
    "value", ["nan", "inf", "-inf", "-1", "-1e-9", "1e9", "1" + 400 * "0", "-1" + 400 * "0"]
)
def test_a_number_that_makes_no_sense_is_refused(
    tmp_path: Path, table: str, name: str, value: str
) -> None:
    if isinstance(TREE[table][name], int) and set(value) & set("nae."):
        value = "-5"
    with pytest.raises(SettingsError) as refused:
        read(tmp_path, f"[{table}]\n{name} = {value}\n")
    said = str(refused.value)
    least, most = range_of(table, name)
    assert said.startswith(f"lab.toml, [{table}]: {name} must be {least:g} to {most:g}, got ")
    assert len(said.splitlines()) == 1


@pytest.mark.parametrize(("table", "name"), NUMBERS)
def test_the_ends_of_a_range_lie_in_it_and_what_is_beyond_does_not(
    tmp_path: Path, table: str, name: str
) -> None:
    kind = type(TREE[table][name])
    for end, step in zip(range_of(table, name), (-1, 1), strict=True):
        assert isinstance(end, kind)
        # Such ends leave no room for the other of the two.
        others = {"minimal_pct": "reduced_pct = 100.0", "reduced_pct": "minimal_pct = 1.0"}
        text = f"[{table}]\n{others.get(name, '')}\n{name} = "
        assert getattr(getattr(read(tmp_path, f"{text}{end}\n"), table), name) == end
        with pytest.raises(SettingsError, match=f"{name} must be"):
            read(tmp_path, f"{text}{end + step}\n")


@pytest.mark.parametrize(("table", "name"), NAMES)
def test_a_wrong_type_is_named(tmp_path: Path, table: str, name: str) -> None:
    wrong = WRONG_TYPE[type(TREE[table][name])]
    with pytest.raises(SettingsError) as refused:
        read(tmp_path, f"[{table}]\n{name} = {wrong}\n")
    assert str(refused.value).startswith(f"lab.toml, {table}.{name}: must be ")


@pytest.mark.parametrize(("table", "name"), NAMES)
def test_every_setting_is_checked(table: str, name: str) -> None:
    room = getattr(Settings(), table)
    item = next(item for item in fields(room) if item.name == name)
    value: Any = TREE[table][name]
    if not isinstance(value, bool):
        wrong = "nonsense" if isinstance(value, str) else float("nan")
        with pytest.raises(SettingsError, match=f"^{name} must be"):
            replace(room, **{name: wrong})
    assert isinstance(value, bool) or item.metadata


@pytest.mark.parametrize(("table", "name"), NAMES)
def test_a_wrong_type_is_named_in_python_too(table: str, name: str) -> None:
    wrong = {float: ("1", True, None), int: (4.5, "1", True), str: (3, b"x"), bool: ("no", 1, 0.0)}
    for value in wrong[type(TREE[table][name])]:
        with pytest.raises(SettingsError, match=f"^{name} must be"):
            replace(getattr(Settings(), table), **{name: value})


def test_a_number_of_another_type_is_the_same_setting() -> None:
    made = CarrySettings(reduced_pct=80, own_readings_df=np.int64(3))  # type: ignore[arg-type]
    assert made == CarrySettings(reduced_pct=80.0, own_readings_df=3)
    assert type(made.reduced_pct) is float
    assert type(made.own_readings_df) is int
    assert MotionSettings(align_clocks=np.bool_(False)).align_clocks is False  # type: ignore[arg-type]


def test_settings_are_read_from_a_path_of_any_kind(tmp_path: Path) -> None:
    settings = read(tmp_path, "[carry]\nreduced_pct = 80\n")
    assert read_settings(str(tmp_path / "lab.toml")) == settings
    assert settings.carry.reduced_pct == 80.0
    assert read_settings() == Settings()


@pytest.mark.parametrize(("table", "name"), NAMES)
def test_a_setting_without_its_table_is_told_where_it_belongs(
    tmp_path: Path, table: str, name: str
) -> None:
    wanted = rf"did you mean \[{table}\] {name}\?"
    with pytest.raises(SettingsError, match=wanted):
        read(tmp_path, f"{name} = 2\n")
    with pytest.raises(SettingsError, match=wanted):
        read(tmp_path, f"[passes]\n{name} = 2\n")
    other = "walk" if table != "walk" else "carry"
    with pytest.raises(SettingsError, match=wanted):
        read(tmp_path, f"[{other}]\n{name} = 2\n")


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("[walk]\ntrim_stride = 2", "did you mean 'trim_strides'"),
        ("[wlak]\n", "did you mean 'walk'"),
        ("[xyz]\n", "known: readers, motion, walk, measures, carry"),
        ("trim_strides = 2", "unknown table or setting 'trim_strides'"),
        ("walk = 2", "write [walk] on a line of its own"),
        ("[walk", "cannot be read as TOML"),
        ("[carry]\nminimal_pct = 80.0", "minimal_pct must be below reduced_pct"),
        ('[motion]\nfilter = "magic"', "filter must be one of levelled"),
        ("[walk]\ntrim_strides = " + 5000 * "1", "cannot be read as TOML"),
        ("[walk]\ntrim_strides = true", "must be a whole number"),
    ],
)
def test_what_is_wrong_in_a_file_is_said(tmp_path: Path, text: str, said: str) -> None:
    with pytest.raises(SettingsError) as refused:
        read(tmp_path, text)
    assert said in str(refused.value)


@pytest.mark.parametrize("end", [0, 1], ids=["least", "most"])
def test_a_session_is_scored_at_the_ends_of_all_ranges(end: int) -> None:
    settings = Settings()
    for table in ("motion", "walk", "measures", "carry"):  # readers may refuse the files
        ends = {name: range_of(table, name)[end] for room, name in NUMBERS if room == table}
        settings = replace(settings, **{table: replace(getattr(settings, table), **ends)})
    scored = run(read_session(EXAMPLE), settings)
    assert isinstance(scored, SessionScores)
    assert len(scored.bouts) == 4
