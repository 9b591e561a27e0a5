"""How commands reach the store: readers open it, writers hand over to a running server.

There is one writer to a store. While a server runs, a command that writes sends its change
there, with the token from the mark beside the store, and prints what the server answers.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

import click

from spares.cli import options
from spares.errors import SparesError, StoreBusy

if TYPE_CHECKING:
    from urllib.error import HTTPError

    from spares.actions.context import Context
    from spares.web.running import Mark

TIMEOUT_S = 60


class Told(SparesError):
    """A problem that the running server answered."""

    def __init__(self, problem: dict[str, Any]) -> None:
        super().__init__(str(problem.get("detail", "the server refused this")))
        self.told = problem
        self.facts = {name: value for name, value in problem.items()
                      if name not in ("type", "title", "detail", "status")}

    def problem(self) -> dict[str, Any]:
        """Give the problem as it was told."""
        return self.told


def context() -> Context:
    """Open the store and choose the vessel; the store is closed when the command ends."""
    from spares.actions.context import open_context

    leave_to_older_server()
    opened = open_context(options.settings(), options.asked().vessel)
    click.get_current_context().call_on_close(opened.store.close)
    return opened


def leave_to_older_server() -> None:
    """See that no store is brought up under a server of an earlier version that runs on it.

    Raises:
        StoreBusy: such a server runs.
    """
    settings = options.settings()
    if not settings.mark.exists():
        return              # nearly always, and then nothing more is imported
    from spares.db.engine import is_behind, open_store
    from spares.web.running import find_server

    mark = find_server(settings)
    if mark is None:
        return
    store = open_store(settings.store, beside=settings.beside, upgrade=False)
    behind = is_behind(store)
    store.close()
    if behind:          # of a newer or damaged one it is said where it is opened
        raise StoreBusy(f"the store is of an earlier version, and the server at {mark.address} "
                        f"holds it: stop it first (process {mark.pid}); nothing was changed")


def do(verb: str, **fields: Any) -> dict[str, Any]:
    """Do one of the verbs that write; fields that are None are left out."""
    from spares.web.verbs import perform

    body = {name: value for name, value in fields.items() if value is not None}
    return write("POST", f"do/{verb}", body, lambda: perform(context(), verb, body))


def write(method: str, path: str, body: dict[str, Any],
          here: Callable[[], dict[str, Any]]) -> dict[str, Any]:
    """Send *body* to the server of the store, or do *here* when none runs."""
    import json

    from spares.web.running import find_server

    mark = find_server(options.settings())
    if mark is None:
        return here()
    return send(mark, method, path, json.dumps(body).encode(), "application/json")


def send(mark: Mark, method: str, path: str, data: bytes, kind: str) -> dict[str, Any]:
    """Send *data* to a running server and give its answer.

    Raises:
        Told: the server answered a problem.
        StoreBusy: it does not answer.
    """
    import json
    import urllib.error  # late: what only looks asks no server
    import urllib.parse
    import urllib.request

    vessel = options.asked().vessel
    query = "?" + urllib.parse.urlencode({"vessel": vessel}) if vessel else ""
    joint = "&" if "?" in path else "?"
    address = f"{mark.address}/api/{path}" + (query.replace("?", joint, 1) if query else "")
    request = urllib.request.Request(address, data, method=method, headers={
        "Content-Type": kind, "X-Spares-Token": mark.token})
    opener = urllib.request.build_opener(urllib.request.ProxyHandler({}))    # never leave aboard
    try:
        with opener.open(request, timeout=TIMEOUT_S) as response:
            answer: dict[str, Any] = json.loads(response.read())
            return answer
    except urllib.error.HTTPError as err:
        with err:
            raise Told(_problem_in(err)) from err
    except (OSError, ValueError) as err:
        raise StoreBusy(f"the server at {mark.address} holds the store and does not answer; "
                        f"stop it (process {mark.pid}) and try again") from err


def _problem_in(err: HTTPError) -> dict[str, Any]:
    import json

    try:
        problem = json.loads(err.read())
    except ValueError:
        problem = None
    return problem if isinstance(problem, dict) else {
        "type": "about:blank", "title": "Refused", "detail": f"the server answered {err.code}"}
