"""What a request must be before anything reads it: right host, right origin, right size.

A page of another site, open in the same browser, can send requests to this computer.
So the host must be one of ours (or a hostile name server could make its page look like
ours), and a request that writes must show that it comes from our own page, or from a
program: browsers let no foreign page set `X-Spares`.
"""

from __future__ import annotations

import hmac
from urllib.parse import unquote_to_bytes, urlsplit

from flask import Flask, Response, abort, current_app, redirect, request
from werkzeug import Response as BaseResponse
from werkzeug.exceptions import Forbidden, HTTPException

from spares.actions.read_json import check_text
from spares.web.net import came_by_net, of_app

MAX_BODY_BYTES = 8 * 1024 * 1024
MAX_ADDRESS_BYTES = 8 * 1024
OWN_HEADER, TOKEN_HEADER = "X-Spares", "X-Spares-Token"
_LOOKING = ("GET", "HEAD", "OPTIONS")
# Answers that are computed and forgotten: programs may ask without saying who they are.
_FORGOTTEN = ("/api/compute/", "/api/fit")
_LOCAL = ("localhost", "127.0.0.1", "[::1]")


class WrongHost(HTTPException):
    """RFC 9110, 15.5.20: the request was meant for another name."""

    code = 421
    description = "This server does not answer to that name; use the address it printed."


def register(app: Flask, host: str, token: str | None) -> None:
    """Guard every request of *app*: *host* is a name beside those of this computer."""
    app.config["MAX_CONTENT_LENGTH"] = MAX_BODY_BYTES
    app.extensions["spares_hosts"] = frozenset({*_LOCAL, host.lower()})
    app.extensions["spares_token"] = token
    for check in (_check_host, _check_address, _check_origin, _check_encoding):
        app.before_request(check)


def _check_host() -> BaseResponse | None:
    host = (request.environ.get("HTTP_HOST") or request.environ.get("SERVER_NAME", "")).lower()
    name, colon, port = host.rpartition(":")
    if not colon or port.endswith("]"):
        name, port = host, ""
    if came_by_net():
        return _check_net_name(name)
    if name not in current_app.extensions["spares_hosts"] or not (port.isdecimal() or not port):
        raise WrongHost()
    return None


def _check_net_name(name: str) -> BaseResponse | None:
    """Let one name in: what a browser keeps belongs to it. A bare address is sent there."""
    net = of_app()
    if net is None or name not in (net.name, *(bracketed(one) for one in net.addresses)):
        raise WrongHost()
    if name == net.name:
        return None
    return redirect(f"{net.address}{request.full_path.rstrip('?')}", 308)


def bracketed(address: str) -> str:
    """Write an address as it stands in the Host header."""
    return f"[{address}]" if ":" in address else address


def _check_address() -> Response | None:
    query = request.query_string
    if len(query) + len(request.path) > MAX_ADDRESS_BYTES:
        abort(414, "The address is longer than anything here needs.")
    try:
        for text in (request.path, unquote_to_bytes(query).decode("utf-8")):
            check_text(text, "#")
    except UnicodeDecodeError:
        abort(400, "The address is not UTF-8 text.")
    if "\ufffd" in request.path:
        abort(400, "The address is not UTF-8 text.")
    return None


def _check_origin() -> Response | None:
    if request.method in _LOOKING or request.routing_exception is not None:
        return None                     # nothing to write; a 404 or 405 says more
    origin, site = request.headers.get("Origin"), request.headers.get("Sec-Fetch-Site")
    if origin is not None and urlsplit(request.host_url)[:2] != _scheme_and_host(origin):
        _wrong_origin("this request comes from another site")
    if site not in (None, "same-origin", "none"):
        _wrong_origin("this request comes from another site")
    token = request.headers.get(TOKEN_HEADER)
    if token is not None and not _is_ours(token):
        _wrong_origin("the token is not the one beside the store")
    if not request.path.startswith(_FORGOTTEN):
        require_own_page()
    return None


def require_own_page() -> None:
    """Refuse a request that does not show that it is from our own page or from a program.

    What the headers say was compared before; here it is enough that they say something.
    """
    headers = request.headers
    told = (headers.get("Origin"), headers.get("Sec-Fetch-Site"), headers.get(TOKEN_HEADER))
    if not any(told) and headers.get(OWN_HEADER) != "1":
        _wrong_origin(f"a program that writes must send the header {OWN_HEADER}: 1")


def _check_encoding() -> Response | None:
    if request.headers.get("Content-Encoding", "identity").lower() != "identity":
        abort(415, "Send the body as it is, not compressed.")
    return None


def _scheme_and_host(origin: str) -> tuple[str, str]:
    try:
        return urlsplit(origin)[:2]
    except ValueError:
        return "", ""


def _is_ours(token: str) -> bool:
    ours = current_app.extensions["spares_token"]
    return ours is not None and hmac.compare_digest(token.encode(), ours.encode())


class WrongOrigin(Forbidden):
    """A request that writes and does not show that it comes from here."""

    facts = {"stop": "wrong_origin"}


def _wrong_origin(detail: str) -> None:
    raise WrongOrigin(detail)
