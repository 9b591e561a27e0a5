"""Who belongs to the crew: pairing, the list of devices, their rights, what waits."""

from __future__ import annotations

import secrets
from typing import Any

from flask import Response, current_app, request

from spares.actions import devices as action
from spares.actions.also_aboard import also_aboard
from spares.actions.codes import reserve_codes
from spares.actions.context import Context
from spares.actions.gate import TOKEN_BYTES
from spares.actions.identify import identify
from spares.actions.several import rights
from spares.db.engine import Store
from spares.errors import InvalidInput, NotAllowed, NotFound
from spares.web.api import JSON_TYPE, ApiBlueprint
from spares.web.net import of_app
from spares.web.schemas import sync as shapes
from spares.web.schemas.base import VesselQuery
from spares.web.store import context, store_of
from spares.web.who import asker, gate, set_token

blueprint = ApiBlueprint("devices", "Phones of the crew: pairing, rights, what waits")


@blueprint.route("/devices/me")
@blueprint.arguments(VesselQuery, location="query")
@blueprint.response(200, shapes.Me)
def me(query: dict[str, Any]) -> dict[str, Any]:
    """Tell who asks; a phone looks here for its number and its vessel's id."""
    return _me(context())


@blueprint.route("/devices/here", methods=["POST"])
@blueprint.arguments(VesselQuery, location="query")
@blueprint.arguments(shapes.HereBody)
@blueprint.response(201, shapes.Me)
@blueprint.alt_response(200, schema=shapes.Me)
def pair_here(query: dict[str, Any], asked: dict[str, Any]) -> Any:
    """Let this computer's own browser keep a copy and an outbox, as the skipper's.

    Only on the server itself; everywhere else a device is paired by a code.
    """
    if not asker().here:
        raise NotAllowed("only on the server itself; pair this device by a code")
    if asker().device is not None:
        return _me(context()), 200
    ctx, token = context(), secrets.token_urlsafe(TOKEN_BYTES)
    action.pair(ctx.store, ctx.vessel, token, name=asked["name"], role="skipper")
    return _welcome(ctx.store, token, bearer=False), 201


@blueprint.route("/devices")
@blueprint.arguments(VesselQuery, location="query")
@blueprint.response(200, shapes.DeviceList)
def devices(query: dict[str, Any]) -> dict[str, Any]:
    """List the devices with their rights and when they were last seen.

    The skipper sees all, another device itself. Numbers that a device made and lost are
    named, and how many of its changes wait.
    """
    found = action.listed(context())
    return {"devices": [_marked(one) for one in found["devices"]]}


@blueprint.route("/devices/<dev>", methods=["PATCH"])
@blueprint.arguments(VesselQuery, location="query")
@blueprint.arguments(shapes.DeviceChange)
@blueprint.response(200, shapes.DeviceLine)
def change_device(query: dict[str, Any], asked: dict[str, Any], dev: str) -> dict[str, Any]:
    """Give a device another name, role or grant."""
    return _marked(action.change(context(), dev, **asked))


@blueprint.route("/devices/<dev>/revoke", methods=["POST"])
@blueprint.arguments(VesselQuery, location="query")
@blueprint.arguments(shapes.Revoke)
@blueprint.response(200, shapes.DeviceLine)
def revoke_device(query: dict[str, Any], asked: dict[str, Any], dev: str) -> dict[str, Any]:
    """Take a device out of the crew, at once."""
    return _marked(action.revoke(context(), dev, asked["how"]))


@blueprint.route("/devices/<dev>/also", methods=["POST"])
@blueprint.arguments(VesselQuery, location="query")
@blueprint.arguments(shapes.AlsoBody)
@blueprint.response(200, shapes.DeviceLine)
def also_on(query: dict[str, Any], asked: dict[str, Any], dev: str) -> dict[str, Any]:
    """Give a device a role aboard another vessel, too; who gives it is skipper aboard both."""
    return _marked(also_aboard(context(), dev, asked["vessel"], asked["role"], asked["grants"]))


@blueprint.route("/held")
@blueprint.arguments(VesselQuery, location="query")
@blueprint.response(200, shapes.HeldList)
def held(query: dict[str, Any]) -> dict[str, Any]:
    """List the changes that wait for the skipper."""
    return action.held(context())


@blueprint.route("/held/<uuid:ident>", methods=["POST"])
@blueprint.arguments(VesselQuery, location="query")
@blueprint.arguments(shapes.Decide)
@blueprint.response(200, shapes.Decided)
def decide_held(query: dict[str, Any], asked: dict[str, Any], ident: Any) -> dict[str, Any]:
    """Put a waiting change into the log, or refuse it."""
    return action.decide(context(), str(ident), asked["decide"], asked["say"])


@blueprint.route("/codes", methods=["POST"])
@blueprint.arguments(VesselQuery, location="query")
@blueprint.arguments(shapes.CodesBody)
@blueprint.response(200, shapes.Codes)
def codes(query: dict[str, Any], asked: dict[str, Any]) -> dict[str, Any]:
    """Set label codes aside for the device that asks."""
    return reserve_codes(context(), asked["what"], asked["count"])


@blueprint.route("/pairings", methods=["POST"])
@blueprint.arguments(VesselQuery, location="query")
@blueprint.arguments(shapes.NewPairing)
@blueprint.response(201, shapes.BegunPairing)
def begin_pairing(query: dict[str, Any], asked: dict[str, Any]) -> dict[str, Any]:
    """Begin to bring a phone into the crew: a code, good once and for ten minutes."""
    begun = gate().begin(context(), asked["role"], asked["grants"], asked["name"])
    net = of_app()
    url = f"{net.address}/#/pair/{begun['secret']}" if net else None
    return {**begun, "url": url, "qr_svg": action.picture_code(url) if url else None}


@blueprint.route("/pairings/<uuid:ident>")
@blueprint.arguments(VesselQuery, location="query")
@blueprint.response(200, shapes.PairingAnswer)
def pairing(query: dict[str, Any], ident: Any) -> dict[str, Any]:
    """Tell how a pairing stands, and which phone shows its code."""
    return gate().look(context(), str(ident))


@blueprint.route("/pairings/<uuid:ident>/confirm", methods=["POST"])
@blueprint.arguments(VesselQuery, location="query")
@blueprint.response(200, shapes.PairingAnswer)
def confirm_pairing(query: dict[str, Any], ident: Any) -> dict[str, Any]:
    """Take the phone that shows the same four digits."""
    return gate().decide(context(), str(ident), take=True)


@blueprint.route("/pairings/<uuid:ident>/refuse", methods=["POST"])
@blueprint.arguments(VesselQuery, location="query")
@blueprint.response(200, shapes.PairingAnswer)
def refuse_pairing(query: dict[str, Any], ident: Any) -> dict[str, Any]:
    """Do not take the phone that shows the code, or end the pairing."""
    return gate().decide(context(), str(ident), take=False)


@blueprint.route("/pair", methods=["POST"])
@blueprint.arguments(shapes.ShowCode)
@blueprint.response(202, shapes.Claim)
def show_code(asked: dict[str, Any]) -> dict[str, Any]:
    """Show a code, as the phone that wants in. The role is the one the skipper chose."""
    gate().spend("pair", request.remote_addr or "")
    if ("code" in asked) == ("secret" in asked):
        raise InvalidInput.at("#/code", "either the code or the secret is needed")
    return gate().claim(asked.get("code") or asked["secret"], asked["name"])


@blueprint.route("/pair/collect", methods=["POST"])
@blueprint.arguments(shapes.Collect)
@blueprint.response(200, shapes.Waiting)
@blueprint.alt_response(201, schema=shapes.PairedMe)
def collect(asked: dict[str, Any]) -> Any:
    """Ask whether the skipper has decided; the device's token comes once."""
    gate().spend("collect", request.remote_addr or "")
    store = store_of(current_app).get()
    answer, token = gate().collect(store, asked["claim"])
    if token is None:
        return answer, 200
    return _welcome(store, token, bearer=asked["bearer"]), 201


def _welcome(store: Store, token: str, *, bearer: bool) -> Response:
    known = identify(store, token)
    if known is None:
        raise NotFound("the device is no longer there")
    ctx = Context(store, known.vessel, store_of(current_app).today(), known.dev, known.role)
    told = {**_about(known, ctx), "state": "paired", "here": asker().here}
    text = current_app.json.dumps({**told, "token": token} if bearer else told)
    response = current_app.response_class(text, status=201, mimetype=JSON_TYPE)
    if not bearer:
        lasts_ms = action.GUEST_FOR_MS if known.role == "guest" else action.PAIRED_FOR_MS
        set_token(response, token, lasts_ms // 1000)
    return response


def _me(ctx: Context) -> dict[str, Any]:
    who = asker()
    if who.device is not None:
        return {**_about(who.device, ctx), "here": who.here}
    vessel = ctx.aboard(()).vessel
    return {"dev": None, "name": None, "role": "skipper", "grants": [], "here": True,
            "vessel": {"id": ctx.vessel, "mark": vessel.mark, "name": vessel.name},
            "vessels": rights(ctx), "certificate_until": _certificate_until()}


def _about(known: Any, ctx: Context) -> dict[str, Any]:
    return {"dev": known.dev, "name": known.name, "role": known.role,
            "grants": list(known.grants),
            "vessel": {"id": known.vessel, "mark": known.mark, "name": known.vessel_name},
            "vessels": rights(ctx), "certificate_until": _certificate_until()}


def _certificate_until() -> str | None:
    """Give the last day of the certificate by which phones know the server, while it shows one."""
    net = of_app()
    return net.until.isoformat() if net is not None and net.until is not None else None


def _marked(line: dict[str, Any]) -> dict[str, Any]:
    """Say of each device whether it is the one that asks."""
    device = asker().device
    return {**line, "this": device is not None and device.dev == line["dev"]}
