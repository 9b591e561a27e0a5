"""The look-only find page on the plain port, where the skipper opened it: where things lie.

It shows names, makers' numbers, places and counts; no prices, notes, people or devices. It
takes nothing, and whoever is on the boat's net sees it: so it is shut unless asked for.
"""

from __future__ import annotations

from typing import Any

from flask import Flask, render_template, request

from spares.actions.context import open_context
from spares.actions.find import find
from spares.actions.gate import Gate
from spares.errors import InvalidInput
from spares.web.store import OpenStore

NOTHING = "Nothing that lies anywhere answers to this."


def register(app: Flask, opened: OpenStore) -> None:
    """Add the page to the application of the plain port; *opened* is the store of this run."""
    gate = Gate()

    @app.get("/find")
    def look() -> str:
        gate.spend("look", request.remote_addr or "")
        ctx = open_context(opened.settings, None, store=opened.get())
        vessel, asked = ctx.aboard(()).vessel, request.args.get("q", "")
        found: dict[str, Any] = {"message": None, "hits": []}
        if asked.strip():
            try:
                found = find(ctx, asked)
            except InvalidInput as err:
                found["message"] = err.facts["errors"][0]["detail"]
        shown = _shown(found["hits"], ctx.today.isoformat())
        nothing = NOTHING if found["hits"] and not shown else None
        return render_template("look.html", vessel=vessel, asked=asked, hits=shown,
                               message=found["message"] or nothing)


def _shown(hits: list[dict[str, Any]], today: str) -> list[dict[str, Any]]:
    """Take out of each hit what anybody may see; of a locker, what lies in it."""
    shown = []
    for hit in hits:
        if hit["type"] not in ("part", "locker", "machine") or hit.get("lent_to"):
            continue            # a fit point or a service has no place; a borrower is a person
        places = [_place(one, today) for one in hit.get("where", [])]
        if hit["type"] == "locker":
            places = [{"code": line["no"], "name": line["name"], "count": _count(line, today)}
                      for line in hit["lines"]]
        shown.append(_head(hit) | {"places": places})
    return shown


def _head(hit: dict[str, Any]) -> dict[str, Any]:
    title = f"{hit['no'] or ''} {hit.get('name') or hit.get('what') or ''}".strip()
    numbers = (hit.get("maker"), hit.get("number")) if hit["type"] == "part" else (
        hit.get("code"), hit.get("place") if isinstance(hit.get("place"), str) else None)
    return {"title": title, "maker_number": " ".join(filter(None, numbers)),
            "is_part": hit["type"] == "part"}


def _place(one: dict[str, Any], today: str) -> dict[str, Any]:
    if one["lent_to"]:      # the place bears the name of who has it
        return {"code": "", "name": "Lent out", "count": _count(one, today)}
    away = "" if one["aboard"] else ", not aboard"
    return {"code": one["code"] or "", "name": f"{one['name']}{away}",
            "count": _count(one, today)}


def _count(one: dict[str, Any], today: str) -> str:
    """Say how many, and what speaks against them."""
    if not one["counted"]:
        return "not counted"
    many = f"{one['quantity']:g}" if one["low"] == one["high"] else (
        f"{one['low']:g} to {one['high']:g}")
    against = ["suspect"] if one["condition"] == "suspect" else []
    if one["expires"] and one["expires"] < today:
        against.append(f"out of date since {one['expires']}")
    return ", ".join([many, *against])
