"""The walk-round of a vessel whose history nobody knows: what to ask of each machine.

What was seen, what somebody told and what was guessed are kept apart. The strongest answer
counts, and one that nobody has seen stays marked as such. What is on record without a word on
how it is known is told as that.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import NamedTuple

from spares.domain.aboard import Aboard, Done, Record, name_of
from spares.domain.tree import fitted_now, is_live

SEEN, ON_RECORD, TOLD, GUESSED, OPEN = STATES = ("seen", "on-record", "told", "guessed", "open")
ORIGINS = (SEEN, TOLD, GUESSED)
PLATE, COUNTER, FIT, HISTORY = QUESTIONS = ("plate", "counter", "fit", "history")
#: The next step while nobody has seen the answer.
STEPS = {PLATE: "read-plate", COUNTER: "read-counter", FIT: "measure", HISTORY: "first-look"}

#: How a claim's origin, a link's proof and a service's proof count here.
CLAIMED = {"measured": SEEN, "measured-used": SEEN, "plate": SEEN, "maker": TOLD, "seller": TOLD,
           "memory": GUESSED, "assumed": GUESSED}
PROVED = {"measured": SEEN, "fitted-before": SEEN, "makers-list": TOLD, "hearsay": TOLD}
SAID = {"seen": SEEN, "measured": SEEN, "photo": SEEN, "told": TOLD, "yard": TOLD,
        "guessed": GUESSED}


class Question(NamedTuple):
    """One thing to find out: about which document, and the answers of the walk-round.

    `recorded` are the states that it has by what is on record besides; `look` is the kind of part
    to look at first, "" for none.
    """

    question: str
    about: str
    recorded: frozenset[str]
    findings: tuple[Record, ...] = ()
    look: str = ""

    @property
    def state(self) -> str:
        """The strongest of its states; open where there is none."""
        said = {one.origin for one in self.findings}
        # the walk-round says how it is known
        return strongest(said | (self.recorded - {ON_RECORD} if said else self.recorded))

    @property
    def next_step(self) -> str | None:
        """What to do next; None where somebody has seen it, or it is on record."""
        return None if self.state in (SEEN, ON_RECORD) else STEPS[self.question]


def strongest(states: Iterable[str]) -> str:
    """Give the strongest of some states.

    Args:
        states: Some of `STATES` [-].

    Returns:
        One of `STATES`; open for none [-].

    Source:
        Counting rule of this project.

    Example:
        >>> strongest(["guessed", "told"])
        'told'
    """
    return min(states, key=STATES.index, default=OPEN)


def progress(questions: Sequence[Question]) -> dict[str, int]:
    """Count questions by state.

    Args:
        questions: Those of a machine, or of the whole vessel [-].

    Returns:
        How many were asked, how many are answered, and how many are in each state [-].

    Source:
        Counting rule of this project.

    Example:
        >>> progress([Question("plate", "machine/x", frozenset({"told"}))])["answered"]
        1
    """
    states = [one.state for one in questions]
    return {"asked": len(states), "answered": len(states) - states.count(OPEN),
            **{state.replace("-", "_"): states.count(state) for state in STATES}}


def questions_of(aboard: Aboard, machine: str) -> list[Question]:
    """List what to find out about a machine: plate, counter, fit points, services.

    Args:
        aboard: The vessel [-].
        machine: Name of the machine's document [-].

    Returns:
        Questions in the order of asking [-].

    Source:
        Common practice, no source.

    Example:
        >>> questions_of(Aboard(None, {}), "machine/x")
        []
    """
    record = aboard.get(machine)
    if record is None or record.gone:
        return []
    found = [_ask(aboard, PLATE, machine, _plate(record))]
    if record.counter not in ("of", "none"):
        found.append(_ask(aboard, COUNTER, machine, _counter(aboard, machine)))
    found += [_ask(aboard, FIT, name_of("point", point), _fit(aboard, point))
              for point in aboard.points_of.get(machine, [])
              if not point.gone and is_live(aboard, point)]
    return [*found, *(_ask(aboard, HISTORY, name_of("service", one), _history(aboard, one),
                           _look(aboard, one)) for one in _services(aboard, machine))]


def _ask(aboard: Aboard, question: str, about: str, states: set[str],
         look: str = "") -> Question:
    findings = tuple(sorted((one for one in aboard.by("finding", "about").get(about, ())
                             if one.question == question and one.origin in ORIGINS),
                            key=lambda one: ORIGINS.index(one.origin)))
    return Question(question, about, frozenset(states), findings, look)


def _plate(machine: Record) -> set[str]:
    return {ON_RECORD} if machine.serial else set()


def _counter(aboard: Aboard, machine: str) -> set[str]:
    read = any(one.minutes is not None and not one.doubt
               for one in aboard.readings_of.get(machine, ()))
    return {SEEN} if read else set()


def _fit(aboard: Aboard, point: Record) -> set[str]:
    """How it is known what fits: by sizes that are asked for, or by parts that sit here."""
    ends = [name_of("point", point), *([point.template] if point.template else [])]
    claims = [one.claim or {} for end in ends for one in aboard.requirements_of.get(end, [])]
    found = {CLAIMED.get((one.get("origin") or {}).get("how") or "", ON_RECORD)
             for one in claims if one.get("value") is not None}
    found |= {PROVED[link.proof] for end in ends for link in aboard.links_to.get(end, [])
              if link.role == "takes" and link.proof in PROVED}
    return found


def _services(aboard: Aboard, machine: str) -> list[Record]:
    """Those done on a machine itself, or at a fit point of it; sorted by machine once."""
    known: dict[str, list[Record]] | None = aboard.worked_out.get("services by machine")
    if known is None:
        known = aboard.worked_out["services by machine"] = {}
        for one in aboard.all("service"):
            point = aboard.get(one.point)
            at = one.machine or (point.machine if point is not None else None)
            known.setdefault(at or "", []).append(one)
    return [one for one in known.get(machine, ())
            if not one.not_wanted and _is_here(aboard, one)]


def _is_here(aboard: Aboard, service: Record) -> bool:
    points = [service.point] if service.point else []
    more = aboard.by("service-at", "service").get(name_of("service", service), ())
    points += [one.point for one in more]
    return not points or any((point := aboard.get(name)) is not None and is_live(aboard, point)
                             for name in points)


def _history(aboard: Aboard, service: Record) -> set[str]:
    return {origin_of(one) for one in aboard.done_of.get(name_of("service", service), ())
            if one.date}


def origin_of(done: Done) -> str:
    """Say how it is known that a service was done: by its proof, else it is on record.

    Args:
        done: One carrying-out [-].

    Returns:
        One of `STATES`, never open [-].

    Source:
        Counting rule of this project.

    Example:
        >>> origin_of(Done("c", "service/x", "", "2027-03", None, "yard's word", "", "", ""))
        'told'
    """
    words = (done.proof or "").lower().replace("'", " ").split()
    return SAID.get(words[0], ON_RECORD) if words else ON_RECORD


def _look(aboard: Aboard, service: Record) -> str:
    """The kind of the part that the service is about: what sits at its point, else its kit's."""
    point = aboard.get(service.point)
    now = fitted_now(aboard, service.point) if service.point else None
    kit = aboard.kits_of.get(name_of("service", service), [])
    parts = [aboard.get(name) for name in ([now.part] if now else []) + [one.part for one in kit]]
    kinds = [point.kind if point is not None else None, *(one.kind for one in parts if one)]
    return next((kind for kind in kinds if kind), "")
