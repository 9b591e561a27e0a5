"""Check: is the store whole, and what in it cannot be right?"""

from __future__ import annotations

from typing import Any

from spares.actions.amounts import hours
from spares.actions.context import Context
from spares.actions.due import due
from spares.actions.hour_meters import history, too_high_noted
from spares.actions.kind_sheets import kind_sheets
from spares.actions.photo_faults import photo_faults
from spares.db.apart import heads_apart
from spares.db.chain import check_chain
from spares.db.gone import edited_while_gone
from spares.db.logbook import all_logs, vessel_head
from spares.db.number_faults import number_faults
from spares.domain.aboard import Aboard, name_of
from spares.domain.document_kinds import DOCUMENTS
from spares.domain.service.meter import sift
from spares.domain.tree import fitted_now
from spares.errors import SparesError, StoreDamaged


def check(ctx: Context, *, rebuild: bool = False) -> dict[str, Any]:
    """Report a broken chain, dangling links, impossible readings, counts below zero, fields apart.

    With *rebuild* all tables are made anew from the log, and what was different is
    reported. A person at the server asks for the whole store: the logs of its other vessels are
    looked at too, as far as that they are whole.

    Raises:
        StoreDamaged: a log itself is damaged; nothing was rebuilt.
    """
    with ctx.store.looking() as reader:
        entries = check_chain(reader, ctx.vessel)
    if not ctx.device:
        _check_others(ctx)
    different: list[dict[str, Any]] = []
    if rebuild:
        from spares.db.rebuild import rebuild as rebuild_tables  # late: it comes with all tables

        with ctx.store.writing(ctx.vessel) as session:
            different = rebuild_tables(session, ctx.vessel)
        ctx.store.memory.clear()
    aboard = ctx.aboard()
    found = [*_dangling(aboard), *_readings(aboard), *_noted(ctx, aboard), *_counts(aboard),
             *_apart(ctx, aboard), *_rings(aboard), *_services(ctx), *_sheets(ctx),
             *photo_faults(ctx, aboard), *_numbers(ctx)]
    return {"entries": entries, "faults": found, "rebuilt": rebuild, "differences": different}


def _check_others(ctx: Context) -> None:
    """Follow the logs of the store's other vessels, of one without a document too."""
    with ctx.store.looking() as reader:
        for other in all_logs(reader):
            try:
                if other != ctx.vessel:
                    check_chain(reader, other)
            except StoreDamaged as err:
                mark, _ = vessel_head(reader, other)
                raise StoreDamaged(f"{mark or other}: {err.detail}", vessel=other,
                                   **err.facts) from err


def _dangling(aboard: Aboard) -> list[dict[str, Any]]:
    found = []
    for kind, fields in DOCUMENTS.items():
        for record in aboard.all(kind):
            for field, spec in fields.items():
                name = getattr(record, field) if spec.type == "ref" else None
                if not name:
                    continue
                target = aboard.get(name)
                if target is None or target.gone:
                    state = "is not there" if target is None else "is gone"
                    found.append(_fault("dangling", name_of(kind, record), aboard,
                                        f"{field} names something that {state}"))
    for one in aboard.lying:
        for name in (one.part, one.locker):
            if one.quantity and ((target := aboard.get(name)) is None or target.gone):
                found.append(_fault("gone-but-there", name, aboard,
                                    "is gone, but pieces are counted under it"))
    return found


def _readings(aboard: Aboard) -> list[dict[str, Any]]:
    found = []
    for machine in aboard.all("machine"):
        name = name_of("machine", machine)
        _, odd = sift(history(aboard, name))
        found += [_fault("doubtful-reading", name, aboard,
                         f"{hours(reading.minutes)} h on {reading.on}: {doubt.words}")
                  for reading, doubt in odd]
    return found


def _noted(ctx: Context, aboard: Aboard) -> list[dict[str, Any]]:
    said = too_high_noted(aboard, ctx.today)
    return [_fault("doubtful-reading", one.service, aboard, said[one.change])
            for one in aboard.done if one.change in said]


def _counts(aboard: Aboard) -> list[dict[str, Any]]:
    found = []
    for one in aboard.lying:
        said = [*(("below zero",) if one.quantity < 0 else ()),
                *(("in doubt",) if one.doubts or one.rivals else ())]
        found += [_fault("count", one.part, aboard, f"{word} in {aboard.label(one.locker)}")
                  for word in said]
    return found


def _apart(ctx: Context, aboard: Aboard) -> list[dict[str, Any]]:
    """Report fields that people set apart, and what was set of a thing that was gone by then."""
    with ctx.store.looking() as reader:
        standing = heads_apart(reader, ctx.vessel)
        unseen = edited_while_gone(reader, ctx.vessel)
    return [*(_fault("apart", doc, aboard, f"has more than one {name} side by side")
              for doc, fields in standing.items() for name in sorted(fields)),
            *(_fault("edited-while-gone", doc, aboard, "was changed by somebody who did not know "
                     "that it had been taken off the books") for doc in unseen)]


def _rings(aboard: Aboard) -> list[dict[str, Any]]:
    """Report lockers that lie in each other and fit points whose part nobody recorded."""
    found = []
    for locker in aboard.all("locker"):
        seen, at = {locker.id}, aboard.get(locker.parent)
        while at is not None and at.id not in seen:
            seen.add(at.id)
            at = aboard.get(at.parent)
        if at is not None:
            found.append(_fault("ring", name_of("locker", locker), aboard,
                                "lies in a locker that lies in it"))
    for point in aboard.all("point"):
        now = fitted_now(aboard, name_of("point", point))
        if now is not None and aboard.get(now.part) is None:
            found.append(_fault("dangling", name_of("point", point), aboard,
                                "holds a part that is not recorded"))
    return found


def _numbers(ctx: Context) -> list[dict[str, Any]]:
    """Report numbers of devices, and waiting changes, that do not go with the log."""
    with ctx.store.looking() as reader:
        return [{"code": "numbers", "thing": None, "no": None, "text": one}
                for one in number_faults(reader, ctx.vessel)]


def _services(ctx: Context) -> list[dict[str, Any]]:
    """Report a service record by which nothing can be reckoned."""
    try:
        due(ctx)
    except SparesError as err:
        return [{"code": "services", "thing": None, "no": None,
                 "text": f"services cannot be reckoned: {err.detail}"}]
    return []


def _sheets(ctx: Context) -> list[dict[str, Any]]:
    """Report a person's own kind sheets that cannot be used."""
    return [{"code": "kind-sheet", "thing": None, "no": None, "text": f"kind sheet {one.text}"}
            for one in kind_sheets(ctx.sheets_folder).faults]


def _fault(code: str, name: str, aboard: Aboard, text: str) -> dict[str, Any]:
    return {"code": code, "thing": name, "no": aboard.label(name),
            "text": f"{aboard.label(name)} {text}"}
