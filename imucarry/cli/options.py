"""Options that commands share, each one decorator."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, TypeVar

import click

from imucarry.cli.console import Console

Command = TypeVar("Command", bound=Callable[..., Any])

FolderPath = click.Path()
ExistingFile = click.Path(exists=True, dir_okay=False)


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
