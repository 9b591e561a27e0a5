"""The rule of the expected answers, reckoned plainly and apart from the program.

Day by day over the rows of the files, with no other help than dates and fractions:
slow, short, and a second opinion on what the program says.
"""

from __future__ import annotations

from collections import defaultdict
from datetime import date, timedelta
from fractions import Fraction

LEAVE, BACK, TODAY = date(2027, 5, 3), date(2027, 7, 5), date(2027, 3, 15)
DAYS = (BACK - LEAVE).days
READY_DAYS = 2


def months_after(day: date, months: int) -> date:
    """No day of the demo's records lies at a month's end, so the day of month stays."""
    month = day.month - 1 + months
    return date(day.year + month // 12, month % 12 + 1, day.day)


def rows(tables, name):
    return [row.values for row in tables.get(name, [])]


def hours_at_day_zero(tables):
    hours = {r["machine"]: Fraction(r["hours"], 60) for r in rows(tables, "readings")
             if not r["doubt"]}
    hours |= {m["no"]: hours[m["counter_of"]] for m in rows(tables, "machines") if m["counter_of"]}
    return hours


def uses(tables):
    """Give (uses, due before leaving, history unknown) by service."""
    found, before, unknown = days_of_work(tables, LEAVE, DAYS, {
        r["machine"]: Fraction(r["hours"], 60) for r in rows(tables, "trip_hours")})
    return {no: len(days) for no, days in found.items()}, before - unknown, unknown


def days_of_work(tables, leave, length, trip):
    """Give (days counted from leaving, 0 before it), due before leaving, history unknown."""
    now = hours_at_day_zero(tables)
    done = {r["service"]: r for r in rows(tables, "done")}
    found, before = {}, set()
    unknown = {s["no"] for s in rows(tables, "services")} - done.keys()
    for service in rows(tables, "services"):
        no, every, months = service["no"], service["every_h"], service["every_months"]
        every = every and Fraction(every, 60)
        at = now.get(service["machine"], Fraction(0))
        if no in unknown:
            due = True
        else:
            day = date.fromisoformat(done[no]["date"])
            last = done[no]["hours"]
            due = (bool(months) and months_after(day, months) <= leave
                   or bool(every) and at - Fraction(last, 60) >= every)
        if due:
            day, since, worked = leave, at, [0]
            before.add(no)
        else:
            since, worked = Fraction(last or 0, 60), []
        run = trip.get(service["machine"], Fraction(0))
        each = run if isinstance(run, list) else [run / length] * length
        for n in range(1, length + 1):
            here, hours = leave + timedelta(days=n), at + sum(each[:n])
            while True:
                by_hours = bool(every) and hours - since >= every
                by_months = bool(months) and months_after(day, months) <= here
                if not by_hours and not by_months:
                    break
                worked.append(n)
                # Falls due by hours within the day: the clock restarts at that very hour.
                since = min(since + every, hours) if by_hours and not by_months else hours
                day = here
        found[no] = worked
    return found, before, unknown


def needs(tables):
    total, events = defaultdict(int), uses(tables)[0]
    for line in rows(tables, "kits"):
        times = events[line["service"]] + bool(line["set_aside"])
        total[line["part"]] += line["quantity"] // 1000 * times
    for line in rows(tables, "keep"):
        total[line["part"]] = max(total[line["part"]], line["quantity"] // 1000)
    return {part: need for part, need in total.items() if need}


def usable(tables):
    aboard = {r["no"] for r in rows(tables, "lockers") if r["aboard"]}
    good = [r for r in rows(tables, "stock") if r["locker"] in aboard and r["quantity"] != "?"
            and r["condition"] != "suspect"
            and (not r["expires"] or r["expires"] >= BACK.isoformat())]
    found = defaultdict(int)
    for row in good:
        found[row["part"]] += row["quantity"] // 1000
    for line in rows(tables, "stand_ins"):
        found[line["for_part"]] += found[line["part"]]
    return found


def order_by(tables, part):
    lead = next(r["lead_days"] for r in rows(tables, "parts") if r["no"] == part)
    return (LEAVE - timedelta(days=lead + READY_DAYS)).isoformat()
