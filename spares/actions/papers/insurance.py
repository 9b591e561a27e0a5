"""Insurance list: machines and spares, with the value of what is new."""

from __future__ import annotations

from spares.actions.amounts import plain
from spares.actions.context import Context
from spares.actions.papers.frame import head, maker_number
from spares.actions.photos import photo_numbers
from spares.domain.aboard import Aboard, Lying, Record, name_of
from spares.domain.stowage import NEW, condition_of, counts_as_aboard, expires_of, is_lent
from spares.paper.insurance_list import InsuredLine, insurance_list_pdf
from spares.paper.language import ENGLISH, Words


def insurance(ctx: Context, *, page: str = "A4", say: Words = ENGLISH) -> bytes:
    """Print machines, then every part that lies aboard, ashore or with a borrower."""
    aboard, photos = ctx.aboard(), photo_numbers(ctx)
    machines = [_machine(one, photos) for one in aboard.all("machine")]
    spares = _spares(say, aboard, ctx.today.isoformat(), photos)
    return insurance_list_pdf(head(ctx, say, say("title.insurance"), say("insurance.values")),
                              [*machines, *spares], page=page)


def _machine(one: Record, photos: dict[str, str]) -> InsuredLine:
    plate = " ".join(filter(None, [one.maker, one.model]))
    return InsuredLine(", ".join(filter(None, [f"{one.no} {one.name}", plate])),
                       serial=one.serial or "", machine=True,
                       photo=photos.get(name_of("machine", one), ""))


def _spares(say: Words, aboard: Aboard, today: str, photos: dict[str, str]
            ) -> list[InsuredLine]:
    """Give a line for each part, state and whereabouts, the pieces of all lockers together."""
    found: dict[tuple[str, str, str], int] = {}
    for one in sorted(aboard.lying, key=lambda one: aboard.label(one.part)):
        if one.quantity > 0 and aboard.get(one.part) is not None:
            key = (one.part, _state(say, aboard, one, today), _elsewhere(say, aboard, one))
            found[key] = found.get(key, 0) + one.quantity
    bought = _last_bought(aboard)
    return [_spare(aboard.get(part), state, elsewhere, quantity, photos.get(part, ""),
                   bought.get(part))
            for (part, state, elsewhere), quantity in found.items()]


def _state(say: Words, aboard: Aboard, one: Lying, today: str) -> str:
    """Say why pieces are not worth a new one's price, nothing if they are."""
    condition, expires = condition_of(aboard, one), expires_of(aboard, one)
    if condition != NEW:
        return say.word("condition", condition)
    return say("insurance.out_of_date") if expires and expires < today else ""


def _last_bought(aboard: Aboard) -> dict[str, str]:
    """Give the day on which the last order of a part arrived, by part."""
    found: dict[str, str] = {}
    for one in aboard.all("order"):
        if day := one.arrived_on or one.stowed_on:
            found[one.part] = max(found.get(one.part, ""), day)
    return found


def _spare(part: Record, state: str, elsewhere: str, quantity: int, photo: str,
           bought: str | None) -> InsuredLine:
    said = [f"{part.no} {part.name}", maker_number(part), state, elsewhere]
    price = part.price
    full = _value(price["minor"], quantity) if price else None
    return InsuredLine(
        ", ".join(filter(None, said)), plain(quantity), part.unit or "pcs", bought=bought,
        value_minor=None if state else full, list_minor=full,
        currency=price["currency"] if price else "", photo=photo)


def _value(minor: int, thousandths: int) -> int:
    """Give the value of a quantity in hundredths of the currency, half rounded up."""
    return (minor * thousandths + 500) // 1000


def _elsewhere(say: Words, aboard: Aboard, one: Lying) -> str:
    if counts_as_aboard(aboard, one):
        return ""
    locker = aboard.get(one.locker)
    if is_lent(aboard, one):
        return say("insurance.lent", who=locker.lent_to)
    return say("insurance.ashore", locker=locker.no)
