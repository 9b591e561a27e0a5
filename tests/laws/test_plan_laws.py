"""What must hold for any trip: more running, more units or a higher level never needs less."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import poisson

from tests.plans import failure, line, plan, task

TRIP = st.fixed_dictionaries({
    "days": st.integers(1, 120), "hours": st.integers(0, 900), "used": st.integers(0, 600),
    "every": st.integers(20, 700), "mtbf": st.integers(200, 20000), "units": st.integers(1, 6),
    "level": st.sampled_from([0.8, 0.9, 0.95, 0.99])})


def _plan(trip, *, stops=(), lots=(), **change):
    t = {**trip, **change}
    return plan(days=t["days"], hours={"m": t["hours"]},
                trip={"protection": t["level"], "stops": list(stops)},
                tasks=[task(t["every"], used_h=t["used"], kit=[{"part": "p"}])],
                failures=[failure(mtbf_h=t["mtbf"], units=t["units"])], lots=list(lots))


def _minimum(trip, **change):
    return line(_plan(trip, **change))["minimum"]


@given(TRIP, st.integers(1, 300))
def test_more_running_never_needs_less(trip, more):
    assert _minimum(trip, hours=trip["hours"] + more) >= _minimum(trip)


@given(TRIP, st.integers(1, 5))
def test_more_units_never_need_less(trip, more):
    assert _minimum(trip, units=trip["units"] + more) >= _minimum(trip)


@given(TRIP, st.sampled_from([0.95, 0.99, 0.999]))
def test_a_higher_level_never_needs_less(trip, level):
    if level >= trip["level"]:
        assert _minimum(trip, level=level) >= _minimum(trip)


@given(TRIP, st.data())
def test_hours_used_never_need_less(trip, data):
    """Past the interval the work is done before leaving, which takes a piece as well."""
    more = data.draw(st.integers(trip["used"], trip["used"] + 2 * trip["every"]))
    assert _minimum(trip, used=more) >= _minimum(trip)


@given(TRIP, st.data())
def test_a_stop_where_all_is_sold_never_raises_the_need_at_departure(trip, data):
    day = data.draw(st.integers(0, trip["days"]))
    assert _minimum(trip, stops=[{"day": day, "sells": ["p"]}]) <= _minimum(trip)


@given(TRIP, st.data())
def test_windows_together_hold_all_services(trip, data):
    days = data.draw(st.lists(st.integers(0, trip["days"]), max_size=3, unique=True))
    found = _plan(trip, stops=[{"day": d, "sells": ["p"]} for d in days])
    row = found["services"][0]
    at_stops = sum(x["for_service"] for stop in found["stops"] for x in stop["lines"])
    assert line(found)["for_service"] + at_stops == row["before"] + len(row["days"])


@given(TRIP, st.integers(0, 6))
def test_stock_taken_away_never_raises_protection(trip, held):
    with_it = _plan(trip, lots=[{"part": "p", "quantity": held + 1}])["protection"]
    without = _plan(trip, lots=[{"part": "p", "quantity": held}])["protection"]
    assert without["reached"] <= with_it["reached"] + 1e-12


@given(TRIP, st.integers(0, 6))
def test_what_is_short_is_what_is_missing_and_buying_it_is_enough(trip, held):
    row = line(_plan(trip, lots=[{"part": "p", "quantity": held}]))
    assert row["short"] == max(0, row["minimum"] - held) == row["buy"]
    assert row["protection_bought"] >= trip["level"] - 1e-12
    again = line(_plan(trip, lots=[{"part": "p", "quantity": held + row["buy"]}]))
    assert again["state"] == "enough"


@given(st.lists(st.tuples(st.integers(300, 9000), st.integers(1, 4)), min_size=1, max_size=5),
       st.integers(0, 700), st.sampled_from([0.8, 0.95, 0.99]))
def test_pooled_spares_hold_the_level_for_the_pooled_demand(rows, hours, level):
    found = plan(hours={"m": hours}, trip={"protection": level},
                 failures=[failure(mtbf_h=mtbf, units=n) for mtbf, n in rows])
    mean = sum(n * hours / mtbf for mtbf, n in rows)
    spares = line(found)["for_failure"]
    assert poisson.cdf(spares, mean) >= level - 1e-9
    assert spares == 0 or poisson.cdf(spares - 1, mean) < level


LOTS = st.lists(st.tuples(st.integers(0, 3), st.integers(0, 40)), max_size=4)


@given(st.lists(st.integers(0, 30), min_size=1, max_size=5), LOTS)
def test_pieces_are_matched_to_days_as_well_as_any_matching_can(days, lots):
    """Against the best of all ways to give single pieces to single days (by flow on pairs)."""
    tasks = [task(20, used_h=0, id=f"t{i}", machine=f"m{i}", kit=[{"part": "p"}])
             for i in range(len(days))]
    machines = [{"id": f"m{i}"} for i in range(len(days))]
    legs = [{"distance_nm": 0, "speed_kn": 1, "manoeuvring_h": 20, "machines": [f"m{i}"],
             "day": day} for i, day in enumerate(days)]
    found = plan(days=40, trip={"hours": {}, "legs": legs}, machines=machines, tasks=tasks,
                 lots=[{"part": "p", "quantity": n, "expires": f"2027-{4 + e // 30:02d}-"
                        f"{1 + e % 30:02d}"} for n, e in lots])
    need_days = sorted(d for s in found["services"] for d in s["days"])
    assert need_days == sorted(days)
    pieces = sorted(e for n, e in lots for _ in range(n))
    best = _most_pairs(need_days, pieces)
    assert line(found)["short"] == len(need_days) - best


def _most_pairs(days: list[int], expiries: list[int]) -> int:
    """Largest set of pairs (day, piece) with the piece in date, by augmenting paths."""
    holder: dict[int, int] = {}

    def place(day: int, seen: set[int]) -> bool:
        for piece, expiry in enumerate(expiries):
            if expiry >= days[day] and piece not in seen:
                seen.add(piece)
                if piece not in holder or place(holder[piece], seen):
                    holder[piece] = day
                    return True
        return False

    return sum(place(day, set()) for day in range(len(days)))
