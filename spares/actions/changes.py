"""What was changed, newest first, in words."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from spares.actions.amounts import hours, moment, plain
from spares.actions.context import Context
from spares.db.history import UNDO_NOTE, LogLine, act_size, body_of, newest, undone_among
from spares.domain.aboard import Aboard
from spares.domain.identity import kind_of
from spares.errors import InvalidInput

if TYPE_CHECKING:
    from spares.db.asking import Reader

VOIDABLE = ("took", "put", "landed", "moved", "counted", "convert", "service", "reading",
            "exchange", "settle", "same", "photo")
MOST = 500


def changes(ctx: Context, limit: int = 50, before: int | None = None) -> dict[str, Any]:
    """List changes, newest first.

    Args:
        ctx: Where it happens.
        limit: How many, 1 to 500 [1].
        before: Only those before this position of the log [1].

    Raises:
        InvalidInput: *limit* out of range.
    """
    if not 1 <= limit <= MOST:
        raise InvalidInput.at("#/limit", f"1 to {MOST} is needed")
    aboard = ctx.aboard()
    with ctx.store.looking() as reader:
        rows = _lines_of(reader, ctx.vessel, limit, before)
        undone = undone_among(reader, ctx.vessel, [row.id for row in rows])
        return {"changes": [_line(aboard, row, undone, _taken_back_by(reader, row))
                            for row in rows]}


def _lines_of(reader: Reader, vessel: str, limit: int, before: int | None) -> list[LogLine]:
    """Give so many changes that have a line; behind a large taking back it looks further."""
    found: list[LogLine] = []
    while len(found) < limit:
        rows = newest(reader, vessel, MOST, before)
        if not rows:
            break
        found += [row for row in rows if not _stands_with_another(row)]
        before = rows[-1].seq
    return found[:limit]


def _stands_with_another(row: LogLine) -> bool:
    """Say whether this is a further change of one taking back, which has one line."""
    return row.batch not in ("", row.id) and is_undoing(row.kind, body_of(row.raw))


def _taken_back_by(reader: Reader, row: LogLine) -> int:
    """Count what one undoing took back; 0 for any other change."""
    return act_size(reader, row) if is_undoing(row.kind, body_of(row.raw)) else 0


def is_undoing(kind: str, body: dict[str, Any]) -> bool:
    """Say whether a change itself undoes another."""
    return kind in ("void", "restamp") or (
        kind == "set" and body.get("note", "").startswith(UNDO_NOTE))


def _line(aboard: Aboard, row: LogLine, undone: set[str], back: int) -> dict[str, Any]:
    body = body_of(row.raw)
    can = row.id not in undone and not is_undoing(row.kind, body) and (
        row.kind in VOIDABLE or row.kind == "set")
    text = f"Undid {back} changes" if back > 1 else say(aboard, row.kind, body)
    return {"id": row.id, "seq": row.seq, "kind": row.kind, "at": moment(row.at),
            "device": row.dev, "batch": row.batch or None, "undone": row.id in undone,
            "can_undo": can, "note": body.get("note"), "text": text,
            "name": _name(aboard, body, text)}


def _name(aboard: Aboard, body: dict[str, Any], text: str) -> str | None:
    """Name the thing behind the number in a change's sentence, unless the sentence does."""
    record = next((found for field in ("part", "keep", "doc", "point", "service", "machine")
                   if (found := aboard.get(body.get(field)))), None)
    about = record if record is None or _own_name(record) else _about(aboard, record)
    name = _own_name(about)
    return name if name and name not in text else None


def _own_name(record: Any) -> str | None:
    return getattr(record, "name", None) or getattr(record, "what", None)


def say(aboard: Aboard, kind: str, body: dict[str, Any]) -> str:
    """Tell a change in one sentence."""
    name = aboard.label
    late = f", on {body['date']}" if body.get("date") else ""
    if kind in ("took", "landed", "put"):
        way = "into" if kind == "put" else "from"
        return (f"{kind.capitalize()} {plain(body['q'])} of {name(body['part'])} "
                f"{way} {name(body['locker'])}{late}")
    if kind == "moved":
        return (f"Moved {plain(body['q'])} of {name(body['part'])} "
                f"from {name(body['from'])} to {name(body['to'])}{late}")
    if kind == "counted":
        return f"Counted {plain(body['q'])} of {name(body['part'])} in {name(body['locker'])}"
    return _OTHERS[kind](aboard, body) if kind in _OTHERS else kind


def _set(aboard: Aboard, body: dict[str, Any]) -> str:
    kind = kind_of(body["doc"])
    if kind in _DRAWN:
        return _drawn(aboard, kind, body)
    called = f"{kind} {_called(aboard, body['doc'])}".strip()
    if body["f"].get("gone") is True:
        return f"Took {called} off the books"
    if body["f"] == {"gone": False}:
        return f"Put {called} back on the books"
    return f"Set {', '.join(sorted(body['f']))} of {called}"


def _called(aboard: Aboard, name: str) -> str:
    """Call a thing by its number, mark or name, else by what it is about; never by its id."""
    record = aboard.get(name)
    if record is None:
        return "something not recorded"
    for field in ("no", "mark", "name"):
        if getattr(record, field, None):
            return str(getattr(record, field))
    return str(getattr(_about(aboard, record), "no", None) or "")


def _about(aboard: Aboard, record: Any) -> Any:
    """Give what a thing without a number of its own is about, if anything."""
    return next((found for field in ("subject", "part", "point", "service", "machine", "locker")
                 if (found := aboard.get(getattr(record, field, None)))), None)


#: What has no number of its own is told by what it is about: the field that names it, how it is
#: written, how it is taken out.
_DRAWN = {"deck-line": ("deck", "Drew a line on the plan of", "Took a line off the plan of"),
          "deck-place": ("locker", "Put on the plan:", "Took off the plan:"),
          "photo-mark": ("point", "Marked on a photo:", "Took the mark off a photo:")}


def _drawn(aboard: Aboard, kind: str, body: dict[str, Any]) -> str:
    about, written, taken_out = _DRAWN[kind]
    record = aboard.get(body["doc"])
    what = aboard.label(getattr(record, about, None) or body["f"].get(about))
    return f"{taken_out if body['f'].get('gone') is True else written} {what}"


def _reading(aboard: Aboard, body: dict[str, Any]) -> str:
    doubt = f" (doubtful: {body['doubt']})" if body.get("doubt") else ""
    shown = f"{hours(body['minutes'])} h" if "minutes" in body else body.get("value", "")
    return f"{aboard.label(body['machine'])} read {shown} on {body['date']}{doubt}"


def _service(aboard: Aboard, body: dict[str, Any]) -> str:
    what = aboard.label(body.get("service") or body.get("machine"))
    return f"{what} done on {body.get('date', 'a day not known')}"


def _exchange(aboard: Aboard, body: dict[str, Any]) -> str:
    if not body["part"]:
        return f"Took out what sat at {aboard.label(body['point'])}"
    return f"Fitted {aboard.label(body['part'])} at {aboard.label(body['point'])}"


_OTHERS = {
    "set": _set, "reading": _reading, "service": _service, "exchange": _exchange,
    "void": lambda aboard, body: "Undid a change",
    "settle": lambda aboard, body: f"Said that a movement was {body['side']} the count",
    "same": lambda aboard, body: f"{aboard.label(body['drop'])} is the same part as "
                                 f"{aboard.label(body['keep'])}",
    "convert": lambda aboard, body: "Opened a pack",
    "fit-check": lambda aboard, body: f"Checked {aboard.label(body['part'])}: {body['verdict']}",
    "photo": lambda aboard, body: f"Photo of {aboard.label(body['doc'])}",
    "restamp": lambda aboard, body: "The time of a change was set right",
}
