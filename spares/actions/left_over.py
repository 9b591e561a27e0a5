"""Left over: what shall become of a part that fits nothing any more: keep, give or sell."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from spares.actions.context import Context, in_turn
from spares.actions.lines import part_line
from spares.actions.needs import needs
from spares.actions.stock_moves import a_change_id, is_known
from spares.domain.draft import setting
from spares.errors import InvalidInput

OPEN = "open"
WORDS = {"keep": "keep it", "give": "give it away", "sell": "sell it", OPEN: "not decided"}


@in_turn
def left_over(ctx: Context, part: str, choice: str, *, note: str | None = None,
              change_id: str | None = None) -> dict[str, Any]:
    """Record what shall become of *part*; no count changes by it.

    Args:
        ctx: Where it happens.
        part: As people call it [-].
        choice: keep, give or sell; open where it is not decided any more [-].
        note: To whom, for how much, until when; not said, the note stays [-].
        change_id: Chosen by the maker, so that a doubled request is one [-].

    Raises:
        NotFound, Ambiguous: the part cannot be told.
        InvalidInput: no such choice.
    """
    if choice not in WORDS:
        raise InvalidInput.at("#/choice", f"one of {', '.join(WORDS)} is needed")
    name, ident = ctx.named(part, "part", "part"), a_change_id(change_id)
    fields: dict[str, Any] = {"left_over": None if choice == OPEN else choice}
    if note is not None:
        fields["left_over_note"] = note.strip() or None
    if was_new := not is_known(ctx, ident, "set", doc=name):
        ctx.write([replace(setting(name, **fields), id=ident)])
    aboard = ctx.aboard()
    return {"change": ident, "kind": "left-over", "was_new": was_new,
            "text": f"{aboard.label(name)}, left over: {WORDS[choice]}",
            "part": part_line(aboard, name, needs(ctx), ctx.today.isoformat())}
