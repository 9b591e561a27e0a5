"""Options that many commands share; they may stand before or after the verb."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import Any, TypeVar, cast

import click

from spares.config import Settings, read_settings

Command = TypeVar("Command", bound=Callable[..., Any])


class Asked:
    """What was said beside the command itself."""

    def __init__(self) -> None:
        self.store: str | None = None
        self.vessel: str | None = None
        self.as_json = False


def asked() -> Asked:
    """Give what was said on this command line."""
    return click.get_current_context().find_root().ensure_object(Asked)


def settings() -> Settings:
    """Read the settings; `--store` goes before the environment."""
    store = asked().store
    found = read_settings()
    return found._replace(store=store) if store else found


def language(command: Command) -> Command:
    """Add --language to a command that prints a paper."""
    return click.option("--language", metavar="LANGUAGE", help="Of a paper's words: en or da; "
                        "what people wrote stays as they wrote it.")(command)


def common(command: Command) -> Command:
    """Add --store and --vessel to *command*."""
    return _store(_option("--vessel", "vessel",
                          "Mark or id of the vessel, where there are several.", "MARK")(command))


def reading(command: Command) -> Command:
    """Add --store, --vessel and --json to a command that answers something."""
    return common(_json(command))


def whole_store(command: Command) -> Command:
    """Add --store and --json to a command about all vessels at once; --vessel is refused."""
    @wraps(command)
    def of_all(*args: Any, **named: Any) -> Any:
        if asked().vessel:
            raise click.UsageError("This is about all vessels of the store: leave --vessel out.")
        return command(*args, **named)
    return _store(_json(cast(Command, of_all)))


def _store(command: Command) -> Command:
    return _option("--store", "store", "The store: a file or a database address.",
                   "PATH")(command)


def _json(command: Command) -> Command:
    return click.option("--json", "as_json", is_flag=True, expose_value=False, callback=_keep,
                        help="Print the answer as JSON, as the API gives it.")(command)


def _option(name: str, key: str, text: str, metavar: str) -> Callable[[Command], Command]:
    return click.option(name, key, metavar=metavar, expose_value=False, callback=_keep, help=text)


def _keep(context: click.Context, parameter: click.Parameter, value: Any) -> None:
    if value:
        setattr(context.find_root().ensure_object(Asked), parameter.name or "", value)
