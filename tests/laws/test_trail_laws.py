"""A machine must not run exactly while a trail of it is open, whatever was written and where."""

from __future__ import annotations

from itertools import product
from types import SimpleNamespace
from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from spares.domain.aboard import RECORDS, Aboard
from spares.domain.trail import Said, do_not_run, gap, is_open, open_trails, state_of

PIECES = st.one_of(st.none(), st.integers(1, 4))
LOOK = st.one_of(st.none(), st.integers(0, 3).map(lambda found: {"found": found}))
ACCEPTED = st.one_of(st.none(), st.builds(
    lambda by, why, pieces: {"by": by, "why": why, "pieces": pieces},
    st.sampled_from(["", "Tove"]), st.sampled_from(["", "seen"]),
    st.one_of(st.none(), st.integers(0, 4))))


def _some(values: st.SearchStrategy[Any]) -> st.SearchStrategy[tuple[Any, ...]]:
    return st.lists(values, min_size=1, max_size=2).map(tuple)


SAID = st.builds(Said, _some(PIECES), st.lists(_some(LOOK), max_size=3).map(tuple),
                 _some(ACCEPTED), st.booleans(), st.sampled_from([(), ("what",)]))


def _closed_alone(missing: int | None, looks: tuple[Any, ...], accepted: Any) -> bool:
    """Say by the words of the rule whether one device, alone, would call the trail closed."""
    found = sum(look["found"] for look in looks if look)
    if missing is not None and found == missing:
        return True                                     # every piece is found
    if not accepted or not accepted["by"] or not accepted["why"]:
        return False                                    # nobody accepts it in writing
    if missing is None or accepted["pieces"] is None:
        return missing is None and accepted["pieces"] is None
    return found < missing <= found + accepted["pieces"]


@given(SAID)
def test_a_trail_is_closed_only_if_every_device_would_have_it_closed(said: Said) -> None:
    alone = [_closed_alone(*choice) for choice in product(
        said.missing, product(*said.looks), said.accepted)]
    assert (state_of(said) != "open") == (all(alone) and not said.disputed)
    assert is_open(said) == (not said.gone and state_of(said) == "open")


@given(SAID, SAID)
def test_two_phones_that_meet_never_lift_a_mark_that_one_of_them_holds(
        one: Said, other: Said) -> None:
    places = max(len(one.looks), len(other.looks))

    def padded(said: Said) -> list[Any]:
        return [*said.looks, *((None,) for _ in range(places - len(said.looks)))]
    both = Said(one.missing + other.missing,
                tuple(a + b for a, b in zip(padded(one), padded(other), strict=True)),
                one.accepted + other.accepted, False, one.disputed or other.disputed)
    if state_of(one) == "open" or state_of(other) == "open":
        assert state_of(both) == "open"


@given(st.integers(1, 4), st.lists(st.integers(0, 3), max_size=4))
def test_without_acceptance_only_all_pieces_close_it(missing: int, found: list[int]) -> None:
    said = Said((missing,), tuple(({"found": one},) for one in found), (None,))
    assert (state_of(said) == "found") == (sum(found) == missing)
    assert state_of(said) != "accepted"
    assert gap(said).left == missing - sum(found)


@given(st.lists(st.tuples(st.sampled_from(["a", "b", "c"]), PIECES, LOOK, ACCEPTED,
                          st.booleans()), max_size=5))
def test_a_machine_must_not_run_exactly_while_it_has_an_open_trail(
        trails: list[tuple[Any, ...]]) -> None:
    docs: dict[str, dict[str, Any]] = {"trail": {}, "trail-place": {}}
    open_on: set[str] = set()
    for number, (machine, missing, look, accepted, gone) in enumerate(trails):
        docs["trail"][f"t{number}"] = RECORDS["trail"](
            f"t{number}", "v", gone, no=f"T{number}", machine=f"machine/{machine}", what="blade",
            missing=missing, accepted=accepted)
        docs["trail-place"][f"p{number}"] = RECORDS["trail-place"](
            f"p{number}", "v", False, trail=f"trail/t{number}", position=1, look=look)
        if not gone and not _closed_alone(missing, (look,), accepted):
            open_on.add(machine)
    aboard = Aboard(SimpleNamespace(), docs)
    assert {one for one in "abc" if do_not_run(aboard, f"machine/{one}")} == open_on
    assert set(open_trails(aboard)) == {f"machine/{one}" for one in open_on}
