"""Options that commands share, each one decorator."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, TypeVar

import click

from imucarry.cli.console import Console

Command = TypeVar("Command", bound=Callable[..., Any])

BAD_DATA = 65
"""Exit code where the data cannot be used."""

FolderPath = click.Path()
ExistingFile = click.Path(exists=True, dir_okay=False)
ExistingPath = click.Path(exists=True)


class Degrees(click.FloatRange):
    """A number of degrees above 0; NaN and infinity are none."""

    def __init__(self) -> None:
        super().__init__(min=0.0, min_open=True)

    def convert(
        self, value: Any, param: click.Parameter | None, ctx: click.Context | None
    ) -> float:
        """Return the number, or refuse it as wrong usage."""
        number = float(super().convert(value, param, ctx))
        if not number < float("inf"):  # written so that NaN is refused too
            self.fail(f"{value} is no number of degrees", param, ctx)
        return number


def out_folder(command: Command) -> Command:
    """Add ``--out`` and ``--force``."""
    command = click.option(
        "--force", is_flag=True, help="Write even into a folder that holds other files."
    )(command)
    return click.option(
        "--out", required=True, type=FolderPath, metavar="DIR", help="Folder for the results."
    )(command)


def settings_file(command: Command) -> Command:
    """Add ``--settings``."""
    return click.option(
        "--settings",
        "settings_path",
        type=ExistingFile,
        metavar="FILE",
        help="TOML file of settings; see 'imucarry sources' for what there is.",
    )(command)


def as_json(command: Command) -> Command:
    """Add ``--json``."""
    return click.option(
        "--json", "json_wanted", is_flag=True, help="Print the result as JSON for programs."
    )(command)


def speaking(command: Command) -> Command:
    """Add ``-q`` and ``-v``."""
    command = click.option("-v", "--verbose", is_flag=True, help="Say everything.")(command)
    return click.option("-q", "--quiet", is_flag=True, help="Print the result and errors only.")(
        command
    )


def console(quiet: bool, verbose: bool) -> Console:
    """Return the console that the two flags ask for."""
    return Console(quiet=quiet, verbose=verbose)
