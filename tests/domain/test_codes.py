"""Codes of lockers, machines and lots: what is caught, what is read, what is given out."""

from __future__ import annotations

from itertools import combinations, product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from spares.domain import codes
from spares.errors import InvalidInput, OutOfRange

# The demo vessel's labels, written down before the program existed.
LOCKER_CODES = (
    "NNH9 EPXR F3JE HTKW V922 L32X R24E HYNV AFF2 Y9RT CLR2 CMDM WFPJ "
    "AK32 PCHC VD4C EMJR P2H3 TP3E DHMV DMDK CFV9 VFV3 TA9C TT34"
).split()
MACHINE_CODES = "AVD3 VAXA HK93 EEDA ND7H DYF7 NLXK T33D TFAL A2X4 F9EJ PJJH".split()

bodies = st.sampled_from([3, 5]).flatmap(
    lambda n: st.text(alphabet=codes.ALPHABET, min_size=n, max_size=n)
)


def completed(body: str) -> str:
    return body + codes.check_character(body)


@pytest.mark.parametrize("code", LOCKER_CODES + MACHINE_CODES)
def test_every_code_of_the_demo_vessel_checks(code):
    assert codes.is_code(code)


def test_check_character_is_the_one_worked_out_by_hand():
    # E=3 M=9 J=6: 2*3 + 3*9 + 4*6 = 57; 69 - 57 = 12, which is R.
    assert codes.check_character("EMJ") == "R"
    # A=0 C=1 D=2 E=3 F=4: 0 + 3 + 8 + 15 + 24 = 50; 69 - 50 = 19, which is 3.
    assert codes.check_character("ACDEF") == "3"


def test_every_single_wrong_character_is_caught_in_all_short_codes():
    # In a given place two codes that differ only there would collide: with the
    # other characters held, all 23 values must leave 23 different sums.
    for first, second in product(codes.ALPHABET, repeat=2):
        for place in range(3):
            checks = set()
            for third in codes.ALPHABET:
                body = [first, second]
                body.insert(place, third)
                checks.add(codes.check_character("".join(body)))
            assert len(checks) == 23


def test_every_swap_of_unequal_characters_is_caught_in_all_short_codes():
    for letters in product(codes.ALPHABET, repeat=3):
        code = completed("".join(letters))
        for i, j in combinations(range(4), 2):
            if code[i] != code[j]:
                swapped = list(code)
                swapped[i], swapped[j] = swapped[j], swapped[i]
                assert not codes.is_code("".join(swapped)), code


@given(bodies, st.data())
def test_one_wrong_character_never_checks(body, data):
    code = completed(body)
    place = data.draw(st.integers(0, len(code) - 1))
    other = data.draw(st.sampled_from(codes.ALPHABET.replace(code[place], "")))
    assert not codes.is_code(code[:place] + other + code[place + 1 :])


@given(bodies, st.data())
def test_swapped_unequal_characters_never_check(body, data):
    code = completed(body)
    unequal = [(i, j) for i, j in combinations(range(len(code)), 2) if code[i] != code[j]]
    if unequal:
        i, j = data.draw(st.sampled_from(unequal))
        swapped = list(code)
        swapped[i], swapped[j] = swapped[j], swapped[i]
        assert not codes.is_code("".join(swapped))


@given(bodies, st.sampled_from([" ", "-", "\u00a0", "\u2011", "", ". "]))
def test_case_spaces_and_hyphens_do_not_matter(body, filling):
    code = completed(body)
    assert codes.normalise(f" {filling.join(code.lower())} ") == code
    assert codes.is_code(filling.join(code.lower()))


def test_look_alikes_are_named_and_never_replaced():
    for stranger in "BGIOQSUZ01568":
        assert stranger not in codes.ALPHABET
        assert codes.normalise(f"em{stranger}r") == f"EM{stranger}R"
        assert not codes.is_code(f"EM{stranger}R")
    assert codes.strangers("e0 0-b R") == "0B"
    assert codes.strangers("emjr") == ""


@pytest.mark.parametrize("text", ["", "EMJ", "EMJRR", "RRRRRRR", "EMRJ", "\u212aMJR"])
def test_other_texts_are_not_codes(text):
    assert not codes.is_code(text)


def test_the_order_gives_every_short_code_once():
    given_out = {codes.code_at(i) for i in range(23**3)}
    assert len(given_out) == 23**3
    assert all(codes.is_code(code) for code in given_out)


@given(st.sampled_from([3, 5]), st.data())
def test_codes_that_follow_each_other_differ_in_every_body_character(length, data):
    index = data.draw(st.integers(0, 23**length - 2))
    one, next_one = codes.code_at(index, length), codes.code_at(index + 1, length)
    assert all(a != b for a, b in zip(one[:-1], next_one[:-1], strict=True))


@given(st.sets(st.integers(0, 23**5 - 1), min_size=2, max_size=50))
def test_long_codes_at_different_places_differ(indices):
    assert len({codes.code_at(i, 5) for i in indices}) == len(indices)


def test_first_free_code_skips_what_is_taken_and_stays_in_its_block():
    block = [codes.code_at(i) for i in range(10, 13)]
    assert codes.first_free([], 10, 13) == block[0]
    assert codes.first_free(block[:2], 10, 13) == block[2]
    with pytest.raises(OutOfRange):
        codes.first_free(block, 10, 13)
    assert codes.first_free(block, 10) == codes.code_at(13)


@pytest.mark.parametrize("index", [-1, 23**3])
def test_a_place_beyond_the_order_is_refused(index):
    with pytest.raises(OutOfRange):
        codes.code_at(index)


@pytest.mark.parametrize("body", ["", "EM", "EMJR", "EM0", "emj"])
def test_a_text_that_is_no_body_has_no_check_character(body):
    with pytest.raises(InvalidInput):
        codes.check_character(body)


@given(
    st.from_regex(r"[A-Z0-9]{1,3}", fullmatch=True),
    st.sampled_from("LMB"),
    st.text(alphabet=codes.ALPHABET, min_size=5, max_size=5),
)
def test_a_label_is_read_back_short_and_with_an_address(mark, letter, letters):
    code = completed(letters if letter == "B" else letters[:3])
    label = codes.Label(mark, letter, code)
    short = codes.label_text(mark, letter, code)
    assert codes.parse_label(short) == label
    assert codes.parse_label(f"  {short.lower()}\n") == label
    address = codes.address_text("https://tgl.local:8443/", short)
    assert address == f"https://tgl.local:8443/#/l/{short}"
    assert codes.parse_label(address) == label


def test_the_short_text_of_a_locker_has_nine_characters():
    assert codes.label_text("TGL", "L", "emjr") == "TGL:LEMJR"


@pytest.mark.parametrize(
    "text",
    [
        "https://tgl.local/#/l/TGL:LEMJR",
        "http://192.0.2.7:8480/l/TGL:LEMJR",
        "https://tgl.local/l/TGL%3ALEMJR",
        "https://tgl.local/l/TGL:LEMJR/?from=label",
        "HTTPS://TGL.LOCAL/#/L/TGL:LEMJR",
        "https://[2001:db8::1]/#TGL:LEMJR".replace("#", "#/"),
    ],
)
def test_any_address_that_ends_in_the_short_text_is_read(text):
    assert codes.parse_label(text) == codes.Label("TGL", "L", "EMJR")


@pytest.mark.parametrize(
    "text",
    [
        "",
        "EMJR",
        "TGL:LEMRJ",  # neighbours swapped
        "TGL:XEMJR",
        "TGLX:LEMJR",
        "TGL:BEMJR",  # a lot has six characters
        "TGL:LACDEF3",  # a locker has four
        "https://tgl.local/#/l/",
        "https://tgl.local/#/l/TGL:LEMRJ",
        "https://[broken/#/l/TGL:LEMJR",
        "TGL:LEMJR and more",
    ],
)
def test_other_texts_are_not_labels(text):
    assert codes.parse_label(text) is None


@given(st.text())
def test_no_text_breaks_the_reader(text):
    codes.parse_label(text)
    codes.is_code(text)


@pytest.mark.parametrize(
    ("mark", "letter", "code", "pointer"),
    [
        ("tgl", "L", "EMJR", "#/vessel_mark"),
        ("TGL4", "L", "EMJR", "#/vessel_mark"),
        ("", "L", "EMJR", "#/vessel_mark"),
        ("TGL", "K", "EMJR", "#/letter"),
        ("TGL", "L", "EMRJ", "#/code"),
        ("TGL", "B", "EMJR", "#/code"),
    ],
)
def test_a_label_that_cannot_be_written_names_the_field(mark, letter, code, pointer):
    with pytest.raises(InvalidInput) as caught:
        codes.label_text(mark, letter, code)
    assert caught.value.facts["errors"][0]["pointer"] == pointer
