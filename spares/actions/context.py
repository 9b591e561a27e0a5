"""Where an action happens: which store, which vessel, what day, whose hand."""

from __future__ import annotations

import time
from collections.abc import Callable, Collection, Sequence
from dataclasses import dataclass, field
from datetime import date
from functools import wraps
from pathlib import Path
from threading import RLock
from typing import TYPE_CHECKING, Any, TypeVar, cast

from spares.config import Settings, today
from spares.db.engine import Store, open_store
from spares.db.find import by_name, state_of, vessels
from spares.db.load import kept_parts, load_aboard
from spares.domain.aboard import Aboard
from spares.domain.identity import kind_of
from spares.errors import Ambiguous, InvalidInput, NotAllowed, NotFound

if TYPE_CHECKING:
    from spares.db.door import Outcome
    from spares.domain.draft import Draft

HOW_TO_BEGIN = "bring one in (spares import FILE) or try the demo (spares demo)"
#: Records of other vessels that are kept as read: some 100 MB with what is worked out of them.
MOST_KEPT = 60_000
Act = TypeVar("Act", bound=Callable[..., Any])


def clock_ms() -> int:
    """Give this computer's clock [ms since 1970]."""
    return time.time_ns() // 1_000_000


@dataclass(frozen=True)
class Context:
    """What every action needs: a store, one vessel in it, today, whose hand.

    `device` is the number of a paired device; "" is a person at the server itself, who
    may do what the skipper may.
    """

    store: Store
    vessel: str
    today: date
    device: str = ""
    role: str = "skipper"
    sheets_folder: Path | None = None
    now_ms: Callable[[], int] = field(default=clock_ms)

    def aboard(self, parts: Collection[str] | None = None) -> Aboard:
        """Read the vessel, at least with these parts; whole, it is kept until the next change."""
        with self.store.looking() as reader:
            state = state_of(reader, self.vessel)
            if parts is not None and self._known("aboard", state) is None:
                return load_aboard(reader, self.vessel, parts)
            return self._remembered("aboard", state, lambda: load_aboard(reader, self.vessel))

    def remembered(self, what: str, make: Callable[[], Any]) -> Any:
        """Give what was computed from this state on this day, computing it if need be."""
        with self._turn_at(what):
            with self.store.looking() as reader:
                state = state_of(reader, self.vessel)
            return self._remembered(what, (*state, self.today), make)

    def _remembered(self, what: str, state: Any, make: Callable[[], Any]) -> Any:
        known = self._known(what, state)
        if known is None:
            with self._turn_at(what):
                known = self._known(what, state) or (state, make())
                self.store.memory.pop(f"{what} {self.vessel}", None)    # the newest stands last
                self.store.memory[f"{what} {self.vessel}"] = known
                if what == "aboard":
                    self._forget_others()
        return known[1]

    def _forget_others(self) -> None:
        """Keep of the vessels of an office what memory has room for, those read last."""
        memory, left = self.store.memory, MOST_KEPT
        for key, (_, aboard) in reversed([
                one for one in list(memory.items()) if one[0].startswith("aboard ")]):
            vessel = key.removeprefix("aboard ")
            left -= 0 if vessel == self.vessel else aboard.size
            if left < 0 and vessel != self.vessel:
                for other in [one for one in list(memory) if one.endswith(f" {vessel}")
                              and not one.startswith("turn at ")]:
                    memory.pop(other, None)

    def _turn_at(self, what: str) -> Any:
        """Compute one thing once at a time: who asks meanwhile waits for it, and has it too."""
        return self.store.memory.setdefault(f"turn at {what} {self.vessel}", RLock())

    def _known(self, what: str, state: Any) -> tuple[Any, Any] | None:
        known = self.store.memory.get(f"{what} {self.vessel}")
        return known if known is not None and known[0] == state else None

    def write(self, drafts: Sequence[Draft]) -> list[Outcome]:
        """Hand changes to the one door, all in one transaction.

        Raises:
            NotAllowed: the device has no right to one of them.
        """
        from spares.db.desk import desk_for  # late: most commands only look
        from spares.db.door import submit

        with self.store.writing(self.vessel) as session:
            dev = desk_for(session, self.vessel, self.device, drafts) if self.device else ""
            return submit(session, self.vessel, drafts, wall_ms=self.now_ms(), dev=dev)

    @property
    def is_skipper(self) -> bool:
        """Say whether the skipper asks."""
        return self.role == "skipper"

    def require_skipper(self) -> None:
        """Refuse what only the skipper may do.

        Raises:
            NotAllowed: somebody else asks.
        """
        if not self.is_skipper:
            raise NotAllowed("only the skipper may do this")

    def named(self, asked: Any, field_name: str, *kinds: str) -> str:
        """Give the name of the one document that *asked* means.

        Raises:
            InvalidInput: it is no text, or empty.
            NotFound: nothing is called so.
            Ambiguous: several are; `candidates` lists them.
        """
        pointer = f"#/{field_name}"
        if not isinstance(asked, str) or not asked.strip():
            raise InvalidInput.at(pointer, f"the {_words(kinds)} is missing")
        with self.store.looking() as reader:
            kept = kept_parts(reader, self.vessel)
            found = list(dict.fromkeys(kept.get(one, one) for one in by_name(
                reader, self.vessel, asked, kinds)))
        if len(found) == 1:
            return found[0]
        shown = asked if len(asked) <= 60 else asked[:57] + "..."
        if not found:
            raise NotFound(f"{field_name}: no {_words(kinds)} is called {shown!r}",
                           errors=[{"pointer": pointer, "detail": "not found"}])
        aboard = self.aboard([one for one in found if kind_of(one) == "part"])
        raise Ambiguous(f"{field_name}: {shown!r} can mean several things",
                        errors=[{"pointer": pointer, "detail": "more than one"}],
                        candidates=[{"id": one, "no": aboard.label(one)} for one in found])


def in_turn(act: Act) -> Act:
    """Let an act look and then write before the next one looks.

    Numbers, codes and lots are chosen from what is there: two requests at once
    must not choose the same.
    """
    @wraps(act)
    def one_at_a_time(ctx: Context, *args: Any, **named: Any) -> Any:
        with ctx.store.turn_of(ctx.vessel):
            return act(ctx, *args, **named)
    return cast(Act, one_at_a_time)


def open_context(settings: Settings, vessel: str | None = None, *,
                 store: Store | None = None) -> Context:
    """Open the store of the settings and choose a vessel in it.

    Args:
        settings: As read from the surroundings.
        vessel: Her mark or id; None for the only one, or the one begun first [-].
        store: An open store, if there is one already [-].

    Raises:
        NotFound: the store holds no vessel, or none with this mark.
        Ambiguous: several have it.
    """
    if store is None and settings.store_is_file and not Path(settings.store).exists():
        raise NotFound(f"there is no store at {settings.store} yet: {HOW_TO_BEGIN}")
    opened = store or open_store(settings.store, beside=settings.beside)
    try:
        return Context(opened, _chosen(opened, vessel), today(settings),
                       sheets_folder=settings.sheets_folder)
    except BaseException:
        if store is None:
            opened.close()
        raise


def _chosen(store: Store, vessel: str | None) -> str:
    with store.looking() as reader:
        known = vessels(reader)
    if not known:
        raise NotFound(f"no vessel is in this store yet: {HOW_TO_BEGIN}")
    chosen = known[0][0] if vessel is None else one_called(known, vessel)
    if chosen is None:
        raise NotFound(f"vessel: no vessel has the mark {vessel!r}",
                       known=[mark for _, mark in known],
                       errors=[{"pointer": "#/vessel", "detail": "not found"}])
    return chosen


def one_called(known: Sequence[tuple[str, str]], asked: str) -> str | None:
    """Give the id of the one vessel, of (id, mark), that *asked* means: by her mark, or her id.

    Raises:
        Ambiguous: several bear the mark; whoever says it would be led to the wrong one.
    """
    asked = asked.strip().lower()
    found = [ident for ident, mark in known if asked and asked in (mark.lower(), ident)]
    if len(found) > 1:
        raise Ambiguous(f"vessel: several vessels here bear the mark {asked.upper()}; one of them "
                        "takes another, and until then say the id of the one that is meant",
                        errors=[{"pointer": "#/vessel", "detail": "more than one"}],
                        candidates=[{"id": one, "no": asked.upper()} for one in found])
    return found[0] if found else None


def _words(kinds: tuple[str, ...]) -> str:
    return " or ".join("fit point" if kind == "point" else kind for kind in kinds) or "thing"
