"""`spares find WORDS`, `spares show THING`, `spares stranded`: where is it."""

from __future__ import annotations

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
    table.columns([(_amount(place), place["locker"], place.get("code"),
                    "  ".join(filter(None, (place["name"], _about(place)))))
                   for place in part.get("where", ())], indent=6)
    for link in part.get("fits", ()):
        table.put(_link(link), indent=6)
    for other in part.get("stand_ins", ()):
        table.put(f"stand-in {other['part']} {other['name']}: {table.number(other['usable'])} "
                  f"usable ({words.word(words.PROOFS, other['proof'])})", indent=6)


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
    for spare in point.get("spares", ()):
        where = ", ".join(f"{_amount(p)} in {p['locker']}" for p in spare.get("where", ()))
        state = words.word(words.COUNTS, spare.get("state"))
        table.put("spare: " + " · ".join(filter(None, (
            f"{spare['no']} {spare['name']}", where, state))), indent=6)
    table.columns([(one["label"], one["text"] if "text" in one else one.get("value"))
                   for one in point.get("requires", ())], indent=6)


def show_service(service: dict[str, Any]) -> None:
    """Print the head of a service."""
    table.put(f"{service['no']}  {service['what']} · {service['machine'] or ''}".rstrip(" ·"))


SHOWN = {"part": show_part, "locker": show_locker, "machine": show_machine,
         "point": show_point, "service": show_service}


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
            "" if place.get("aboard", True) else "Ashore",
            "" if place.get("reachable", True) else "not reachable under way"]
    said += [words.word(words.FLAGS, flag) for flag in place.get("flags", ())]
    return f"({', '.join(filter(None, said))})" if any(said) else ""


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


COMMANDS = (find,)
