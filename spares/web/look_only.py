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
        return render_template("look.html", vessel=vessel, asked=asked,
                               message=found["message"], hits=_shown(found["hits"]))


def _shown(hits: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """Take out of each hit what anybody may see; of a locker, what lies in it."""
    shown = []
    for hit in hits:
        shown.append(_head(hit) | {"places": [_place(one) for one in hit.get("where", [])]})
        if hit["type"] == "locker":
            shown[-1]["places"] = [{"code": line["no"], "name": line["name"],
                                    "count": _count(line)} for line in hit["lines"]]
    return shown


def _head(hit: dict[str, Any]) -> dict[str, Any]:
    title = f"{hit['no'] or ''} {hit.get('name') or hit.get('what') or ''}".strip()
    numbers = (hit.get("maker"), hit.get("number")) if hit["type"] == "part" else (
        hit.get("code"), hit.get("place") if isinstance(hit.get("place"), str) else None)
    return {"title": title, "maker_number": " ".join(filter(None, numbers)),
            "is_part": hit["type"] == "part"}


def _place(one: dict[str, Any]) -> dict[str, Any]:
    away = ", lent out" if one["lent_to"] else "" if one["aboard"] else ", not aboard"
    return {"code": one["code"] or "", "name": f"{one['name']}{away}", "count": _count(one)}


def _count(one: dict[str, Any]) -> str:
    if not one["counted"]:
        return "not counted"
    if one["low"] != one["high"]:
        return f"{one['low']:g} to {one['high']:g}"
    return f"{one['quantity']:g}"
