"""What holds for the versions of a field, whoever wrote what without seeing whom."""

from __future__ import annotations

import random

from hypothesis import given
from hypothesis import strategies as st

from spares.sync.merge import Version, base_for_next, conflict, heads, merge, shown
from tests.histories import stamp_at


@st.composite
def versions(draw: st.DrawFn) -> list[Version]:
    """Draw versions, each standing on some that its author had seen."""
    made: list[Version] = []
    for place in range(draw(st.integers(1, 12))):
        below = [version.change for version in made]
        base = draw(st.lists(st.sampled_from(below), unique=True, max_size=3)) if below else []
        value = draw(st.sampled_from(["a", "b", 1, True, None]))
        made.append(Version(f"v{place}", value, tuple(base), stamp_at(place, "A")))
    return made


@given(versions(), st.randoms(use_true_random=False))
def test_merge_does_not_depend_on_order_copies_or_batches(made: list[Version],
                                                          rng: random.Random) -> None:
    shuffled = made + rng.choices(made, k=3)
    rng.shuffle(shuffled)
    cut = rng.randrange(len(shuffled) + 1)
    one, other = shuffled[:cut], shuffled[cut:]
    assert merge(one, other) == merge(other, one) == merge(made)
    assert merge(merge(one), merge(other)) == merge(made) == merge(made, made)


@given(versions())
def test_no_version_is_lost_and_the_newest_is_shown(made: list[Version]) -> None:
    assert {version.change for version in merge(made)} == {version.change for version in made}
    assert shown(made) == made[-1]


@given(versions())
def test_version_on_all_heads_settles_the_field(made: list[Version]) -> None:
    last = Version("last", "settled", tuple(base_for_next(made)), stamp_at(99, "B"))
    assert heads([*made, last]) == (last,)
    assert conflict([*made, last]) == ()


@given(versions())
def test_conflict_ends_only_when_all_heads_are_named(made: list[Version]) -> None:
    if conflict(made):
        for left_out in base_for_next(made):
            base = tuple(name for name in base_for_next(made) if name != left_out)
            last = Version("last", "new", base, stamp_at(99, "B"))
            assert left_out in {version.change for version in heads([*made, last])}
            assert len(conflict([*made, last])) > 1


@given(versions())
def test_true_and_one_are_different_values(made: list[Version]) -> None:
    found = {str(type(version.value)) + str(version.value) for version in heads(made)}
    assert bool(conflict(made)) == (len(found) > 1)
