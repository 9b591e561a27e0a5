"""The command line: `spares VERB ...`, and the exit codes that scripts rely on.

0 done, fits, all aboard · 2 any error · 3 short, or fits with changes · 4 not known · 5 does
not fit. Answers go to standard output, errors to standard error: one sentence a field for
people, one problem object (RFC 9457) where JSON was asked for.
"""

from __future__ import annotations

import contextlib
import gc
import io
import os
import sys
from collections.abc import Sequence
from importlib import import_module

import click

from spares import __version__
from spares.cli import options, say
from spares.cli.codes import ERROR, OK
from spares.config import COLLECT_AFTER
from spares.errors import SparesError

# Each group is one file with a tuple COMMANDS; order is that of the help.
GROUPS = ("find", "fit", "trips", "work", "readings", "upkeep", "trails", "papers", "stock",
          "lending", "across", "offices", "records", "files", "backup", "compute", "serve",
          "checkout")


class _InOrder(click.Group):
    """A group whose help lists commands as they were added, what is wanted most first."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        return list(self.commands)


@click.group(cls=_InOrder, context_settings={"help_option_names": ["-h", "--help"],
                                             "max_content_width": 80})
@click.version_option(__version__, message="%(version)s")
@options.common
def spares() -> None:
    """Parts and spares of one small vessel.

    Where is it, does it fit, what does the trip need, what is due. Things are named by
    their number (P034, L17, HBR-04), the code on their label, or their id.

    \b
    Example:  spares find imp har
              spares restock T1
    """


for _group in GROUPS:
    for _command in import_module(f"spares.cli.{_group}").COMMANDS:
        spares.add_command(_command)


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command; give its exit code."""
    args = list(sys.argv[1:] if argv is None else argv)
    gc.set_threshold(COLLECT_AFTER)
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="backslashreplace")   # a poor terminal is no reason to fail
    as_json = "--json" in args or args[:1] == ["compute"]
    try:
        code = spares.main(args, prog_name="spares", standalone_mode=False)
        sys.stdout.flush()
        return code if isinstance(code, int) else OK
    except click.exceptions.NoArgsIsHelpError as err:
        click.echo(err.format_message())
        return ERROR if args else OK
    except click.ClickException as err:
        say.usage(err, as_json)
    except SparesError as err:
        say.error(err, as_json)
    except click.Abort:
        click.echo("stopped", err=True)
    except (BrokenPipeError, SystemExit):       # click answers a closed pipe with SystemExit
        _close_quietly()
        return OK
    except Exception as err:
        say.crash(err, as_json)
    return ERROR


def _close_quietly() -> None:
    """Whoever read our output has gone; keep Python from complaining about it at the end."""
    with contextlib.suppress(OSError):
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
