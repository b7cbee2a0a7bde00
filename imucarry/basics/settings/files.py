"""Settings from a TOML file, and as plain dictionaries."""

from __future__ import annotations

import tomllib
from dataclasses import fields, is_dataclass, replace
from difflib import get_close_matches
from pathlib import Path
from typing import Any

from imucarry.basics.errors import SettingsError
from imucarry.basics.files import NO_FILE, NOT_THERE, is_special
from imucarry.basics.settings.fields import KINDS, as_kind
from imucarry.basics.settings.rooms import ROOMS, Settings


def settings_from(given: Settings | str | Path | None) -> Settings:
    """Return settings as they are, or read from the file that is named, or the defaults.

    Raises
    ------
    SettingsError
        If it is none of these, or the file cannot be used.
    """
    if not isinstance(given, Settings | str | Path | None):
        raise SettingsError(
            f"settings must be Settings or the path of a TOML file, got {type(given).__name__}"
        )
    return given if isinstance(given, Settings) else read_settings(given)


def read_settings(path: str | Path | None = None) -> Settings:
    """Read a TOML settings file; without one, return the defaults.

    Parameters
    ----------
    path : str or Path, optional
        Without one, the defaults.

    Raises
    ------
    SettingsError
        If the file cannot be read, or holds an unknown table or key, or a value of a
        wrong type or out of its range.
    """
    if path is None:
        return Settings()
    path = Path(path)
    try:
        if is_special(path):
            raise SettingsError(NO_FILE, file=path.name)
        tree = tomllib.loads(path.read_text(encoding="utf-8-sig"))
        repr(tree)  # a number that cannot be shown is refused here
    except FileNotFoundError as error:
        raise SettingsError(NOT_THERE, file=path.name) from error
    except (OSError, ValueError, RecursionError) as error:
        raise SettingsError(f"cannot be read as TOML: {error}", file=path.name) from error
    settings = Settings()
    for table, values in tree.items():
        kind = "table" if isinstance(values, dict) else "table or setting"
        _require_known(table, [room.name for room in fields(Settings)], path.name, kind, values)
        if not isinstance(values, dict):
            raise SettingsError(
                f"is a table: write [{table}] on a line of its own", file=path.name, where=table
            )
        room = _with_values(getattr(settings, table), values, path.name, table)
        settings = replace(settings, **{table: room})
    return settings


def _with_values(room: Any, values: dict[str, Any], file: str, table: str) -> Any:
    """Return a copy of one settings class with the values of its table."""
    known = {item.name: getattr(room, item.name) for item in fields(room)}
    checked = {}
    for key, value in values.items():
        _require_known(key, list(known), file, f"setting of [{table}]")
        checked[key] = _matching(value, known[key], file, f"{table}.{key}")
    try:
        return replace(room, **checked)
    except SettingsError as error:
        raise SettingsError(error.message, file=file, where=f"[{table}]") from error


def _require_known(
    name: str, known: list[str], file: str, kind: str, values: object = None
) -> None:
    """Raise if a table or setting is not known; name the table that has such a setting."""
    if name in known:
        return
    close = get_close_matches(name, known, n=1)
    sought = (name, *(values if isinstance(values, dict) else ()))
    homes = [home for setting in sought for home in _tables_with(setting)]
    hint = f"known: {', '.join(known)}"
    if homes:
        hint = f"did you mean {homes[0]}?"
    elif close:
        hint = f"did you mean {close[0]!r}?"
    raise SettingsError(f"unknown {kind} {name!r}; {hint}", file=file, where=name)


def _tables_with(setting: str) -> list[str]:
    """Return the places of a setting, each with its table in brackets."""
    tree = as_tree(Settings())
    return [f"[{table}] {setting}" for table, values in tree.items() if setting in values]


def _matching(value: Any, default: Any, file: str, where: str) -> Any:
    """Return `value` as the type of `default`, or raise."""
    matching = as_kind(value, type(default))
    if matching is None:
        kind = KINDS[type(default)]
        raise SettingsError(f"must be {kind}, got {value!r}", file=file, where=where)
    return matching


def set_as() -> dict[str, str]:
    """Return how each default that can be set is named in a file, by its key in ``evidence``."""
    return {
        item.metadata["key"]: f"[{room}] {item.name}"
        for room, kind in ROOMS.items()
        for item in fields(kind)
    }


def as_tree(settings: Settings) -> dict[str, dict[str, Any]]:
    """Return the settings as plain nested dictionaries, for ``run.json``."""
    return {
        room.name: {
            item.name: getattr(getattr(settings, room.name), item.name)
            for item in fields(getattr(settings, room.name))
        }
        for room in fields(Settings)
        if is_dataclass(getattr(settings, room.name))
    }
