"""Let an office in: the paper by which it keeps the same log as the vessel's own server."""

from __future__ import annotations

import secrets
from datetime import UTC, datetime
from typing import Any

from spares.actions.context import Context, clock_ms
from spares.actions.devices import pair
from spares.actions.gate import TOKEN_BYTES
from spares.actions.her_server import HerServer
from spares.actions.meeting import follow, homes_of, meet
from spares.actions.photo_exchange import exchange_photos
from spares.config import Settings
from spares.db.engine import Store
from spares.db.find import vessels
from spares.db.logbook import vessel_head
from spares.db.tables import Logbook
from spares.errors import Conflict, InvalidInput, NotFound, SparesError, StoreDamaged
from spares.sync.checks import UUID
from spares.sync.stamp import MINUTE_MS
from spares.sync.store import OFFICE

#: How often a server that runs at an office meets each vessel by itself [ms].
MEETS_EVERY_MS = 6 * 60 * MINUTE_MS
#: Version of the paper.
PAPER = 1
KEY_BYTES = 32
_TEXTS = ("address", "token", "mark", "name")


def let_in(ctx: Context, settings: Settings, name: str, address: str | None = None
           ) -> dict[str, Any]:
    """Let an office in, and write the paper that it needs.

    Args:
        ctx: Where it happens; only the skipper does this.
        settings: Of this server: its name on the net, and where its certificate lies.
        name: What the office is called in the list of devices [-].
        address: Where the office reaches this server; its name on the vessel's net unless
            said [-].

    Returns:
        The paper. The key of the log and a token are in it: whoever has it can write as this
        vessel.

    Raises:
        NotAllowed: somebody else than the skipper asks.
        Conflict: this server has no certificate yet by which an office would know it.
    """
    ctx.require_skipper()
    authority = settings.folder / "certificates" / "authority.crt"
    where = address or f"https://{settings.name}:{settings.net_port}"
    if where.startswith("https:") and not authority.exists():
        raise Conflict("this server has no certificate yet: start it once with spares serve --lan")
    if not name.strip():
        raise InvalidInput.at("#/name", "the office's name is missing")
    token = secrets.token_urlsafe(TOKEN_BYTES)
    pair(ctx.store, ctx.vessel, token, name=name, role="crew", grants=(OFFICE,))
    with ctx.store.reading() as session:
        key = session.get_one(Logbook, ctx.vessel).key
        mark, called = vessel_head(session, ctx.vessel)
    return {"spares_office": PAPER, "vessel": ctx.vessel, "mark": mark or "", "name": called or "",
            "address": where, "token": token, "key": key.hex(),
            "authority": authority.read_text() if authority.exists() else ""}


def take_paper(store: Store, paper: Any) -> str:
    """Keep from now on the log of the vessel that wrote this paper; gives her id.

    Raises:
        InvalidInput: it is no such paper.
        Conflict: another vessel of this id is here already, or one with her mark.
    """
    if not isinstance(paper, dict) or paper.get("spares_office") != PAPER:
        raise InvalidInput.at("#/file", "this is no paper of a vessel that lets an office in")
    vessel, key = paper.get("vessel"), _bytes(paper.get("key"))
    if not isinstance(vessel, str) or not UUID.fullmatch(vessel) or len(key) != KEY_BYTES:
        raise InvalidInput.at("#/file", "the vessel or the key in it is none")
    if not all(isinstance(paper.get(one), str) for one in (*_TEXTS, "authority")):
        raise InvalidInput.at("#/file", f"it must have {', '.join(_TEXTS)} and authority as text")
    known = {one: paper[one] for one in (*_TEXTS, "authority")}
    with store.turn:
        _check_mark(store, vessel, known["mark"])
        follow(store, vessel, key, **known)
    return vessel


def _check_mark(store: Store, vessel: str, mark: str) -> None:
    """Refuse a vessel with another one's mark: what is written for one would reach the other."""
    with store.looking() as reader:
        there = dict(vessels(reader))
    there |= {ident: home["mark"] for ident, home in homes_of(store)}
    if vessel not in there and mark.upper() in {one.upper() for one in there.values()}:
        raise Conflict(f"another vessel here bears the mark {mark}; one has to take another")


def meet_all(store: Store, *, only: str | None = None, mark: str | None = None,
             at: str | None = None) -> list[dict[str, Any]]:
    """Meet the vessels whose papers were taken in, one after the other.

    Args:
        store: The office's store.
        only: The id of the one that is met [-].
        mark: The mark of the one that is met [-].
        at: HOST:PORT where the connection goes, where that is not her address [-].

    Returns:
        For each what `meet` says, with her `vessel` and `mark`; where she could not be met, why
        (`fault`), and the others are met all the same.

    Raises:
        NotFound: there is none such.
        InvalidInput: *at* is said, and there are several.
    """
    homes = _asked_for(store, only, mark)
    if at and len(homes) > 1:
        raise InvalidInput.at("#/at", "say which vessel is met there (--vessel)")
    return [{"vessel": vessel, "mark": home["mark"], **_met(store, vessel, home, at)}
            for vessel, home in homes]


def home_of_one(store: Store, only: str | None, mark: str | None) -> str:
    """Give the id of the one vessel that is meant.

    Raises:
        NotFound: there is none such.
        InvalidInput: there are several.
    """
    found = _asked_for(store, only, mark)
    if len(found) > 1:
        raise InvalidInput.at("#/vessel", "say which vessel is meant (--vessel)")
    return found[0][0]


def _asked_for(store: Store, only: str | None, mark: str | None
               ) -> list[tuple[str, dict[str, Any]]]:
    homes = [(vessel, home) for vessel, home in homes_of(store)
             if only in (None, vessel) and (only or mark is None
                                            or mark.upper() in (home["mark"].upper(),
                                                                vessel.upper()))]
    if not homes:
        raise NotFound("the paper of no such vessel was taken in; her own server writes one "
                       "(spares let-in-office NAME FILE)")
    return homes


def meet_due(store: Store, now_ms: int) -> list[dict[str, Any]]:
    """Meet the vessels that were not met for a while; *now_ms* is this computer's clock [ms].

    Where both have written, this office's phones have to pull the log anew after a meeting: so
    it is not done at every chance.
    """
    return [{"vessel": vessel, "mark": home["mark"], **_met(store, vessel, home, None)}
            for vessel, home in homes_of(store)
            if not 0 <= now_ms - home.get("met_ms", 0) < MEETS_EVERY_MS]


def _met(store: Store, vessel: str, home: dict[str, Any], at: str | None) -> dict[str, Any]:
    photos = {"came": 0, "went": 0}
    try:
        her = HerServer(home, at)
        answer = {**meet(store, vessel, her), "photos": photos, "fault": None}
    except StoreDamaged:
        raise                                    # that is this store, and no other is met with it
    except SparesError as err:
        return {"fault": err.detail}
    try:
        ctx = Context(store, vessel, datetime.fromtimestamp(clock_ms() / 1000, UTC).date())
        answer["photos"] = exchange_photos(ctx, her)
    except SparesError as err:
        answer["photos_fault"] = err.detail      # the log is whole without them
    return answer


def _bytes(text: Any) -> bytes:
    try:
        return bytes.fromhex(text)
    except (TypeError, ValueError):
        return b""
