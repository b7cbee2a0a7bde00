"""The command line: each command parses, makes one library call and prints."""

from imucarry.cli.app import run

__all__ = ["run"]
