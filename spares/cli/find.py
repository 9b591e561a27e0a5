"""`spares find WORDS`, `spares show THING`, `spares stranded`: where is it."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

import click

from spares.cli import door, options, say, table, words


@click.command()
@options.reading
@click.argument("text", nargs=-1, required=True, metavar="WORDS...")
def find(text: tuple[str, ...]) -> None:
    """Find parts, lockers, machines by code, number or words.

    The beginnings of words are enough; a code from a label finds its locker.

    \b
    Example:  spares find imp har
              spares find EMJR
    """
    from spares.actions.find import find as run

    answer = run(door.context(), " ".join(text))
    if options.asked().as_json:
        return say.answer_json(answer)
    if answer.get("message"):
        table.put(answer["message"])
    if not answer["hits"] and not answer.get("message"):
        table.put("Nothing is called so.")
    for hit in answer["hits"]:
        show_hit(hit)
    return None


def show_hit(hit: dict[str, Any]) -> None:
    """Print one thing that was found."""
    SHOWN[hit["type"]](hit)


def show_part(part: dict[str, Any]) -> None:
    """Print a part: what it is, how many and where, what it fits."""
    maker = " ".join(filter(None, (part.get("maker"), part.get("number"))))
    state = words.word(words.COUNTS, part.get("state"))
    tags = ", ".join(words.word(words.TAGS, tag) for tag in part.get("tags", ()))
    table.put(f"{part['no']}  " + " · ".join(filter(None, (part["name"], maker, state, tags))))
    places(part.get("where", ()))
    for link in part.get("fits", ()):
        table.put(_link(link), indent=6)
    for other in part.get("stand_ins", ()):
        table.put(f"stand-in {other['part']} {other['name']}: {table.number(other['usable'])} "
                  f"usable ({words.word(words.PROOFS, other['proof'])})", indent=6)
    for other in part.get("stands_in_for", ()):
        table.put(f"stands in for {other['part']} {other['name']} "
                  f"({words.word(words.PROOFS, other['proof'])})", indent=6)
    for other in part.get("numbers", ()):
        table.put(f"{other['what']}: " + " ".join(filter(None, (other["maker"], other["number"]))),
                  indent=6)
    for link in part.get("chain", ()):
        table.put(_chain_link(link, part["no"]), indent=6)


def _chain_link(link: dict[str, Any], shown: str) -> str:
    """Say what is known of one part of a chain, and how many are left."""
    dropped = " ".join(filter(None, ("dropped", link["dropped_on"]))) if link[
        "made"] == "dropped" else ""
    after = f"taken over by {link['taken_over_by']}" if link["taken_over_by"] else ""
    left = f"{table.number(link['aboard'])} aboard, {table.number(link['elsewhere'])} elsewhere"
    mark = "this one" if link["part"] == shown else ""
    return "chain: " + " · ".join(filter(None, (
        f"{link['part']} {link['name']}", dropped, after, left, mark)))


def places(where: Iterable[dict[str, Any]]) -> None:
    """Print where pieces lie and how many."""
    table.columns([(_amount(place), place["locker"], place.get("code"),
                    "  ".join(filter(None, (place["name"], _about(place)))))
                   for place in where], indent=6)


def show_locker(locker: dict[str, Any]) -> None:
    """Print a locker and what lies in it."""
    about = ["" if locker["aboard"] else "ashore",
             "" if locker["reachable"] else "not reachable under way",
             f"lent to {locker['lent_to']}" if locker.get("lent_to") else ""]
    table.put(f"{locker['no']}  " + " · ".join(filter(None, (
        locker["name"], locker.get("code"), *about))))
    table.columns([(_amount(line), line["no"], "  ".join(filter(None, (
        line["name"], _about(line))))) for line in locker["lines"]], indent=6)
    if not locker["lines"]:
        table.put("nothing is known to lie here", indent=6)


def show_machine(machine: dict[str, Any]) -> None:
    """Print a machine and its fit points."""
    for trail in machine.get("do_not_run", ()):
        table.put(f"DO NOT RUN {machine['no']}: {trail} is open")
    hours = machine.get("hours")
    plate = " ".join(filter(None, (machine.get("model"), machine.get("serial"))))
    table.put(f"{machine['no']}  " + " · ".join(filter(None, (
        machine["name"], plate, machine.get("place"), machine.get("code"),
        f"{hours} h" if hours is not None else ""))))
    table.columns([(point["no"], point["name"], _fitted(point))
                   for point in machine.get("points", ())], indent=6)


def show_point(point: dict[str, Any]) -> None:
    """Print a fit point: what sits there, what is kept for it, what it asks."""
    table.put(f"{point['no']}  {point['name']} · {point['machine_name']}"
              + ("" if point["live"] else f" · retired {point.get('retired_on') or ''}".rstrip()))
    table.put("fitted: " + _fitted(point), indent=6)
    for old in point.get("before", ()):
        table.put(f"before: {old['part']} {old['name']}, until {old['until'] or '?'}", indent=6)
    for tried in point.get("tried", ()):
        table.put("tried, does not fit: " + " · ".join(filter(None, (
            f"{tried['part']} {tried['name']}", tried["note"]))), indent=6)
    for spare in point.get("spares", ()):
        where = ", ".join(f"{_amount(p)} in {p['locker']}" for p in spare.get("where", ()))
        state = words.word(words.COUNTS, spare.get("state"))
        table.put("spare: " + " · ".join(filter(None, (
            f"{spare['no']} {spare['name']}", where, state))), indent=6)
    table.columns([("asks", one["label"], one["value"]) for one in point.get("requires", ())],
                  indent=6)


def show_service(service: dict[str, Any]) -> None:
    """Print a service: cautions first, then when, where, with what."""
    every = " or ".join(filter(None, (
        f"{service['every_hours']:g} h" if service.get("every_hours") else "",
        f"{service['every_months']} months" if service.get("every_months") else "")))
    table.put(f"{service['no']}  " + " · ".join(filter(None, (
        service["what"], service.get("machine"), ", ".join(service.get("points", ())),
        f"every {every}" if every else ""))))
    for caution in service.get("cautions", ()):
        table.put(f"{caution['sign']}: {caution['text']}", indent=6)
    for line in service.get("kit", ()):
        aside = " (one more set aside)" if line["set_aside"] else ""
        where = ", ".join(f"{_amount(p)} in {p['locker']}" for p in line["where"])
        table.put(f"{table.number(line['quantity'])} x {line['part']} {line['name']}{aside}: "
                  f"{where or 'none aboard'}", indent=6)
    for line in service.get("done", ())[:3]:
        hours = f", {line['hours']} h" if line.get("hours") is not None else ""
        table.put(f"done {line['date'] or 'on a day nobody knows'}{hours}", indent=6)


def show_trip(trip: dict[str, Any]) -> None:
    """Print a trip: days and running hours."""
    table.put(f"{trip['no']}  {trip['name']} · {trip['departs_on']} to {trip['returns_on']}"
              + ("" if trip.get("days") is None else
                 f" · {trip['days']} days" if trip["days"] else " · out and back on one day"))
    hours = "  ".join(f"{machine} {value:g}" for machine, value in trip["hours"].items())
    if hours:
        table.put("hours: " + hours, indent=6)
    if trip.get("note"):
        table.put(trip["note"], indent=6)


def show_lot(lot: dict[str, Any]) -> None:
    """Print a lot by its fields."""
    table.columns([(name, str(value)) for name, value in lot.items()
                   if value not in (None, "") and name not in ("type", "id")])


SHOWN = {"part": show_part, "locker": show_locker, "machine": show_machine,
         "point": show_point, "service": show_service, "trip": show_trip, "lot": show_lot}


def _amount(place: dict[str, Any]) -> str:
    if not place.get("counted", True):
        return "?"
    low, high = place.get("low"), place.get("high")
    if low is not None and low != high:
        return f"{table.number(low)}-{table.number(high)}"
    return table.number(place["quantity"])


def _about(place: dict[str, Any]) -> str:
    condition = place.get("condition")
    said = ["" if condition in (None, "new") else words.word(words.TAGS, condition),
            f"until {place['expires']}" if place.get("expires") else "",
            *([] if place.get("lent_to") else _far(place))]
    said += [words.word(words.FLAGS, flag) for flag in place.get("flags", ())]
    return f"({', '.join(filter(None, said))})" if any(said) else ""


def _far(place: dict[str, Any]) -> list[str]:
    return ["" if place.get("aboard", True) else "Ashore",
            "" if place.get("reachable", True) else "not reachable under way"]


def _link(link: dict[str, Any]) -> str:
    if link.get("use"):
        return f"for {link['use']}"
    verb = "goes with" if link["role"] == "goes-with" else "fits"
    retired = "" if link.get("live", True) else ", retired"
    return " ".join(filter(None, (
        verb, link.get("point"), link["name"], f"({link['machine_name']})",
        words.word(words.PROOFS, link["proof"]) + retired)))


def _fitted(point: dict[str, Any]) -> str:
    fitted = point.get("fitted")
    if not fitted:
        return "nobody has recorded it"
    since = f", since {fitted['since']}" if fitted.get("since") else ""
    return f"{fitted['part']} {fitted['name']}{since}"


def _apart(one: dict[str, Any]) -> str:
    """Say what several people wrote into one field without knowing of each other."""
    said = " or ".join(
        f"{value['text'] or 'nothing'} ({value['by'] or 'at this computer'}, {value['at'][:10]})"
        for value in one["values"])
    return f"{one['field'].replace('_', ' ')} was written apart: {said}"


@click.command()
@options.reading
@click.argument("thing")
def show(thing: str) -> None:
    """Show one thing whole, whatever it is.

    A part, locker, machine, fit point, service or trip, by number, code or id.

    \b
    Example:  spares show P034
              spares show HBR-04
    """
    from spares.actions.show import show as run

    answer = run(door.context(), thing)
    if options.asked().as_json:
        say.answer_json(answer)
    else:
        show_hit(answer)
        for one in answer["apart"]:
            table.put(_apart(one), indent=6)


@click.command()
@options.reading
def stranded() -> None:
    """List what is aboard and fits nothing any more.

    \b
    Example:  spares stranded
    """
    from spares.actions.stranded import stranded as run

    answer = run(door.context())
    if options.asked().as_json:
        return say.answer_json(answer)
    if not answer["stranded"]:
        table.put("Nothing is stranded.")
    for one in answer["stranded"]:
        of = f" of {one['of']['part']} {one['of']['name']}" if one.get("of") else ""
        since = f", taken out {one['taken_out']}" if one.get("taken_out") else ""
        table.put(f"{one['part']}  {table.number(one['quantity'])} x {one['name']}")
        if one.get("belongs_to"):
            table.put(f"belonged to {one['belongs_to']}{of}{since}", indent=6)
        if one["left_over"]:
            table.put(": ".join(filter(None, (one["left_over"]["choice"],
                                              one["left_over"]["note"]))), indent=6)
        places(one["where"])
    if answer["fits_not_recorded"]:
        table.put("\nNobody has recorded what these fit:")
        table.columns([(one["part"], one["name"]) for one in answer["fits_not_recorded"]], indent=6)
    return None


COMMANDS = (find, show, stranded)
