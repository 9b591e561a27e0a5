"""Labels for lockers, machines and bags, ready to print."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import chain
from typing import Any

from spares.actions.codes import MOST, reserve_codes, reserved_codes
from spares.actions.context import Context, in_turn
from spares.actions.lines import fits, part_head
from spares.domain.aboard import Aboard, name_of
from spares.domain.codes import first_free
from spares.domain.draft import setting
from spares.domain.kit_bag import bags
from spares.domain.stowage import condition_of
from spares.errors import InvalidInput, NotFound
from spares.paper.labels import (
    AnyLabel,
    BagLabel,
    LockerLabel,
    MachineLabel,
    labels_pdf,
    missing_characters,
)
from spares.paper.language import words
from spares.paper.sheet import Sheet

KINDS = ("lockers", "machines", "bags")
LOT_CODE = 5


def labels(ctx: Context, kind: str, *, size: str = "M", only: Sequence[str] = (),
           sheet: Sheet | None = None, dpi: int = 300, address: str | None = None,
           language: str = "en") -> bytes:
    """Draw the labels of all lockers, machines or coded lots, or of those named.

    Args:
        ctx: Where it happens.
        kind: lockers, machines or bags [-].
        size: S, M or L [-].
        only: As people call them; empty for all [-].
        sheet: Where on a sheet; None for a page a label.
        dpi: The printer's dots an inch [1].
        address: Of the program, for symbols that any camera opens [-].
        language: Of the words on them [-].

    Raises:
        InvalidInput: no such kind, size, sheet or language, or nothing to print.
        NotFound, Ambiguous: something named cannot be told.
    """
    if kind not in KINDS:
        raise InvalidInput.at("#/kind", f"one of {', '.join(KINDS)} is needed")
    aboard = ctx.aboard()
    mark = aboard.vessel.mark or ""
    wanted = {ctx.named(one, "only", _KIND_OF[kind]) for one in only}
    found = [label for name, label in _MAKERS[kind](aboard, mark)
             if not wanted or name in wanted]
    if not found:
        raise NotFound(f"there are no {kind} with a code to print", kind=kind)
    return labels_pdf(found, size=size, sheet=sheet, dpi=dpi, address=address,
                      say=words(language))


def labels_there(ctx: Context) -> dict[str, Any]:
    """Give how many labels of each kind there are to print [1]; none where nothing has a code.

    `cannot_show` has the characters that stand as `?` on them, empty where all are printed.
    """
    aboard = ctx.aboard()
    mark = aboard.vessel.mark or ""
    found = {kind: [label for _, label in _MAKERS[kind](aboard, mark)] for kind in KINDS}
    return {**{kind: len(some) for kind, some in found.items()},
            "cannot_show": missing_characters(chain.from_iterable(found.values()))}


@in_turn
def code_lots(ctx: Context, *, change_id: str | None = None) -> dict[str, Any]:
    """Give a code to each lot that lies somewhere and has none, and to the bags of jobs.

    `change_id` may be sent as with any verb; asked twice, nothing is left to be coded.
    """
    aboard = ctx.aboard()
    taken = {one.code for one in aboard.docs["lot"].values() if one.code}
    taken |= reserved_codes(ctx)
    drafts, given = [], []
    for name in sorted({one.lot for one in aboard.lying if one.lot and one.quantity}):
        record = aboard.get(name)
        if record is not None and not record.code:
            code = first_free(taken, length=LOT_CODE)
            taken.add(code)
            drafts.append(setting(name, code=code))
            given.append({"lot": name, "code": code, "part": aboard.label(record.part)})
    for name, code in _bag_codes(ctx, aboard):
        drafts.append(setting(name, code=code))
        given.append({"locker": aboard.label(name), "code": code})
    if drafts:
        ctx.write(drafts)
    return {"kind": "code-lots", "was_new": bool(given), "coded": given,
            "text": f"{len(given)} bags have a code now"}


def _bag_codes(ctx: Context, aboard: Aboard) -> list[tuple[str, str]]:
    bare = [name for name in sorted(bags(aboard)) if not aboard.get(name).code]
    if not bare:
        return []
    codes = reserve_codes(ctx, "locker", min(len(bare), MOST))["codes"]
    return list(zip(bare, codes, strict=False))


def _lockers(aboard: Aboard, mark: str) -> list[tuple[str, AnyLabel]]:
    return [(name_of("locker", one), LockerLabel(mark, one.code, one.name or "", one.no or ""))
            for one in aboard.all("locker") if one.code]


def _machines(aboard: Aboard, mark: str) -> list[tuple[str, AnyLabel]]:
    return [(name_of("machine", one), MachineLabel(mark, one.code, one.name or "",
                                                   one.serial or "", one.no or ""))
            for one in aboard.all("machine") if one.code]


def _bags(aboard: Aboard, mark: str) -> list[tuple[str, AnyLabel]]:
    found = []
    for one in aboard.lying:
        lot = aboard.get(one.lot)
        if lot is None or not lot.code or not one.quantity:
            continue
        part = part_head(aboard, one.part)
        where = tuple(end["point"] for end in fits(aboard, one.part)
                      if end["point"] and end["live"])
        found.append((one.lot, BagLabel(
            mark, lot.code, part["name"] or "", part["maker"] or "", part["number"] or "",
            where, condition_of(aboard, one), None, lot.expires)))
    return found


_MAKERS = {"lockers": _lockers, "machines": _machines, "bags": _bags}
_KIND_OF = {"lockers": "locker", "machines": "machine", "bags": "lot"}
