"""The command group, and how errors become exit codes."""

from __future__ import annotations

import gc
import os
import sys
from collections.abc import Sequence

import click

from imucarry import __version__
from imucarry.basics.errors import ImucarryError
from imucarry.basics.threads import THREAD_LIMITS
from imucarry.cli.console import Console, arose_in_printing, fill_closed_streams, write
from imucarry.cli.group_commands import agree, cohort, export
from imucarry.cli.interrupts import stop_on_terminate
from imucarry.cli.look_commands import demo, preview, schema, sources
from imucarry.cli.options import BAD_DATA
from imucarry.cli.score_commands import retest, score

# One command makes many small objects and few circles: the search for circles is made
# less often than after Python's own 700, which takes a twentieth of a short run.
OBJECTS_BETWEEN_SEARCHES = 50_000
DONE, SOME_FAILED, WRONG_USAGE, BUG, INTERRUPTED = 0, 1, 2, 70, 130


class Commands(click.Group):
    """A group that suggests the command that was probably meant."""

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        from difflib import get_close_matches

        name = args[0]
        if self.get_command(ctx, name) is None and not name.startswith("-"):
            close = get_close_matches(name, self.list_commands(ctx), n=1)
            hint = f" Did you mean {close[0]!r}?" if close else " See 'imucarry --help'."
            raise click.UsageError(f"there is no command {name!r}.{hint}")
        return super().resolve_command(ctx, args)

    def list_commands(self, ctx: click.Context) -> list[str]:
        """List commands in the order in which people need them."""
        return list(self.commands)


@click.group(
    cls=Commands,
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100},
    epilog="Exit codes: 0 done; 1 some sessions failed; 2 wrong usage; 65 the data cannot be "
    "used; 70 a bug; 130 interrupted.",
)
@click.version_option(__version__, prog_name="imucarry")
def app() -> None:
    """Score loaded carries from chest- and wrist-worn accelerometers and gyroscopes.

    Does the sternum still turn with each stride, and the free arm swing, compared with the
    same person's free walk?

    \b
    Examples:
      imucarry demo visit                    write an invented session
      imucarry score visit --out results     score it; open results/report.html
      imucarry preview chest.csv             see how a file is understood
    """


for command in (score, preview, demo, retest, cohort, agree, export, sources, schema):
    app.add_command(command)


def run(arguments: Sequence[str] | None = None) -> None:
    """Run the command line and leave with its exit code."""
    fill_closed_streams()
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")
    gc.set_threshold(OBJECTS_BETWEEN_SEARCHES)
    for name in THREAD_LIMITS:  # heeded as the libraries are first imported, by a command
        os.environ.setdefault(name, "1")
    with stop_on_terminate():
        code = exit_code(list(sys.argv[1:] if arguments is None else arguments))
    # All that is left goes with the process; no search through it on the way out.
    gc.freeze()
    sys.exit(code)


def exit_code(arguments: list[str]) -> int:
    """Run one command; print an error in one line and return the exit code."""
    console = Console(verbose=bool({"-v", "--verbose"} & set(arguments)))
    try:
        code = app.main(arguments, prog_name="imucarry", standalone_mode=False)
    except click.exceptions.Exit as leave:
        return leave.exit_code
    except click.exceptions.NoArgsIsHelpError as error:  # its message is the whole help
        write(sys.stderr, error.format_message())
        return WRONG_USAGE
    except click.UsageError as error:
        console.error(error.format_message())
        return WRONG_USAGE
    except ImucarryError as error:
        console.error(str(error))
        return BAD_DATA
    except (KeyboardInterrupt, click.Abort):
        console.error("interrupted; nothing half-written is left behind")
        return INTERRUPTED
    except SystemExit:  # click leaves so where nobody reads on
        return DONE
    except OSError as error:
        return _of_the_system(error, console)
    except Exception as error:  # the last door: an unforeseen error is a bug, said in one line
        return _bug(error, console)
    return code if isinstance(code, int) else DONE


def _of_the_system(error: OSError, console: Console) -> int:
    """Return the exit code of what the system refused where no stage expects it: printing."""
    if isinstance(error.__context__, KeyboardInterrupt):  # the terminal is gone
        return INTERRUPTED
    if isinstance(error, BrokenPipeError):
        return DONE
    if not arose_in_printing(error):
        return _bug(error, console)
    console.error(f"the result cannot be printed: {error.strerror or error}")
    return BAD_DATA


def _bug(error: Exception, console: Console) -> int:
    if console.verbose:
        import traceback

        write(sys.stderr, "".join(traceback.format_exception(error)).rstrip("\n"))
    console.error(
        f"a bug: {type(error).__name__}: {error}; run again with -v for the details to report"
    )
    return BUG
