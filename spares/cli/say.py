"""Print answers and errors: plain text for people, JSON for programs."""

from __future__ import annotations

from pathlib import PurePath
from typing import Any

import click

from spares.errors import SparesError


def answer_json(answer: Any) -> None:
    """Print an answer as JSON."""
    import json  # late, as others here: most answers are plain text and no error

    click.echo(json.dumps(answer, ensure_ascii=False, indent=2))


def error(err: SparesError, as_json: bool) -> None:
    """Print an error that was raised on purpose."""
    if as_json:
        _problem(err.problem())
        return
    listed = err.facts.get("errors") or []
    if len(listed) < 2:
        _sentence(err.detail)
    else:
        for one in listed:
            field = str(one["pointer"]).removeprefix("#").strip("/")
            _sentence(f"{field}: {one['detail']}" if field else str(one["detail"]))
    if err.facts.get("asks"):
        click.echo("If it is right all the same, say why: --because REASON", err=True)
    for candidate in err.facts.get("candidates", []):
        click.echo(f"  {_candidate(candidate)}", err=True)


def usage(err: click.ClickException, as_json: bool) -> None:
    """Print that the command line itself cannot be read."""
    where = _field(err)
    message = err.format_message()
    if as_json:
        _problem({"type": "/problems/invalid-input",
                  "title": "The input cannot be taken as it is", "detail": message,
                  "errors": [{"pointer": f"#/{where}" if where else "#", "detail": message}]})
        return
    _sentence(f"{where}: {message}" if where else message)
    context = getattr(err, "ctx", None)
    if context is not None:
        click.echo(f"see: {context.command_path} --help", err=True)


def crash(err: Exception, as_json: bool) -> None:
    """Print that the program made a mistake, with the place for whoever mends it."""
    import traceback

    frames = traceback.extract_tb(err.__traceback__)
    last = frames[-1] if frames else None
    where = f" ({PurePath(last.filename).name}, line {last.lineno})" if last else ""
    detail = f"the program made a mistake: {type(err).__name__}: {err}{where}"
    if as_json:
        _problem({"type": "about:blank", "title": "Internal error", "detail": detail})
    else:
        _sentence(detail)


def _problem(body: dict[str, Any]) -> None:
    import json

    click.echo(json.dumps(body, ensure_ascii=False), err=True)


def _sentence(text: str) -> None:
    click.echo("error: " + shown(text), err=True)


def shown(text: Any) -> str:
    """Give *text* with control characters made visible: names are data, not commands."""
    return "".join(c if c.isprintable() or c == "\n" else c.encode("unicode_escape").decode()
                   for c in str(text))


def _candidate(candidate: Any) -> str:
    if isinstance(candidate, dict):
        return shown("  ".join(str(value) for value in candidate.values() if value is not None))
    return shown(candidate)


def _field(err: click.ClickException) -> str:
    parameter = getattr(err, "param", None)
    if parameter is not None and parameter.name:
        return str(parameter.name).removesuffix("_")
    return str(getattr(err, "option_name", "") or "").lstrip("-")
