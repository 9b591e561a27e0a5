"""Joint sheets: order of tightening, passes, pieces, what to mind."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from spares.domain.joint import (
    PATTERNS,
    Piece,
    passes,
    pieces_of,
    tightening_order,
    warnings_for,
)
from spares.errors import InvalidInput

#: ASME PCC-1, legacy cross pattern, bolts numbered clockwise, as quoted second-hand in a public
#: research note on bolting flanges; the standard itself was not read. 20 bolts: from memory.
PRINTED = {
    8: "1-5-3-7-2-6-4-8",
    12: "1-7-4-10-2-8-5-11-3-9-6-12",
    16: "1-9-5-13-3-11-7-15-2-10-6-14-4-12-8-16",
    24: "1-13-7-19-4-16-10-22-2-14-8-20-5-17-11-23-3-15-9-21-6-18-12-24",
    20: "1-11-6-16-3-13-8-18-5-15-10-20-2-12-7-17-4-14-9-19",
}
#: The star on a wheel: common practice, no source.
WHEELS = {3: "1-2-3", 4: "1-3-2-4", 5: "1-3-5-2-4", 6: "1-4-2-5-3-6"}


@pytest.mark.parametrize(("count", "order"), [*PRINTED.items(), *WHEELS.items()])
def test_a_ring_is_tightened_crosswise_as_printed(count, order):
    assert tightening_order(count) == tuple(map(int, order.split("-")))


@given(st.integers(1, 96), st.sampled_from(PATTERNS))
def test_every_fastener_has_its_turn_once(count, pattern):
    assert sorted(tightening_order(count, pattern)) == list(range(1, count + 1))


@given(st.integers(4, 96))
def test_across_a_ring_two_turns_running_are_never_neighbours(count):
    order = tightening_order(count)
    apart = [min((b - a) % count, (a - b) % count)
             for a, b in zip(order, order[1:], strict=False)]
    assert min(apart[::2]) >= (count - 1) // 2        # each pair lies opposite, as near as can be
    assert min(apart) > 1 or count in (4, 6)          # with so few, there is no other way


@given(st.integers(1, 24), st.integers(1, 4))
def test_from_the_middle_outwards_never_comes_back(columns, rows):
    order = tightening_order(columns * rows, "middle-out", rows)
    from_middle = [abs((one - 1) % columns + 1 - (columns + 1) / 2) for one in order]
    assert from_middle == sorted(from_middle)


def test_two_rows_of_six_begin_at_the_four_in_the_middle():
    # numbered 1 to 6 along one row, 7 to 12 along the other, from the same end
    assert set(tightening_order(12, "middle-out", 2)[:4]) == {3, 4, 9, 10}


@pytest.mark.parametrize(("asked", "pointer"), [
    ((0,), "#/fasteners"), ((97,), "#/fasteners"), ((8, "spiral"), "#/pattern"),
    ((7, "middle-out", 2), "#/rows"), ((7, "middle-out", 0), "#/rows")])
def test_what_cannot_be_laid_out_names_its_field(asked, pointer):
    with pytest.raises(InvalidInput) as told:
        tightening_order(*asked)
    assert told.value.facts["errors"][0]["pointer"] == pointer


def test_passes_rise_to_the_full_torque():
    assert passes(3) == (30, 70, 100)       # within 20-30, 50-70 and 100 % of ASME PCC-1, as quoted
    assert (passes(1), passes(2), passes(4)) == ((100,), (50, 100), (25, 50, 75, 100))
    for number in (0, 7):
        with pytest.raises(InvalidInput):
            passes(number)


def test_pieces_are_read_line_by_line_from_the_face_outwards():
    lines = ("P016", "", "12 x P018, hollow side to the flange", "12× P017", "flange", "G 1/2 plug")
    assert pieces_of("\n".join(lines)) == (
        Piece(None, "P016", ""), Piece(12, "P018", "hollow side to the flange"),
        Piece(12, "P017", ""), Piece(None, "", "flange"), Piece(None, "", "G 1/2 plug"))
    assert pieces_of(None) == ()


@pytest.mark.parametrize(("said", "marks"), [
    ("split washer M8", ["split washer"]), ("conical spring washer M10", ["conical washer"]),
    ("self-locking nut M10", ["single use"]),
    ("bolt M8 x 25, A4 into aluminium housing", ["stainless in aluminium"]),
    ("bolt M8, A4; nut M8, A4", ["stainless on stainless"]), ("bolt M8, 8.8", []),
    ("Copper ring 22 mm", ["single use"]), ("paper size A41", []),
    ("P016 exhaust gasket", ["gasket"])])
def test_what_to_mind_goes_by_the_words(said, marks):
    assert [one.mark for one in warnings_for(said)] == marks
