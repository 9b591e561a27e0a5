"""A code is good once, for ten minutes, for five wrong tries; the skipper has the last word."""

from __future__ import annotations

import re
from itertools import count

import pytest

from spares.errors import Conflict, NotFound, Stopped
from spares.sync.pairing import GOOD_FOR_MS, Begun, Pairings
from spares.sync.rates import Rate

VESSEL = "00000000-0000-4000-8000-0000000000aa"


@pytest.fixture
def pairings() -> Pairings:
    numbers = count(1)
    return Pairings(lambda length: (next(numbers) * 0x9E3779B97F4A7C15F39CC0605CEDC835)
                    .to_bytes(64, "big")[-length:])


def begun(pairings: Pairings, now_ms: int = 0) -> Begun:
    return pairings.begin(VESSEL, "crew", ("take",), "", now_ms)


def stopped(caught: pytest.ExceptionInfo[Stopped]) -> str:
    return caught.value.facts["stop"]


def test_code_has_13_letters_that_are_not_taken_for_others(pairings: Pairings) -> None:
    assert re.fullmatch(r"[0-9A-HJKMNP-TV-Z]{5}-[0-9A-HJKMNP-TV-Z]{5}-[0-9A-HJKMNP-TV-Z]{3}",
                        begun(pairings).code)
    assert re.fullmatch(r"[0-9a-f]{32}", begun(pairings).secret)


def test_phone_waits_for_the_skipper_and_then_gets_the_role_he_chose(pairings: Pairings) -> None:
    made = begun(pairings)
    pairing, claim = pairings.claim(made.code, "Anna's phone", 1)
    assert re.fullmatch(r"\d{4}", pairing.digits)
    assert pairings.collect(claim, 2).state == "claimed"
    pairings.decide(made.pairing.ident, True, 3)
    done = pairings.collect(claim, 4)
    assert (done.state, done.role, done.grants, done.name) == (
        "confirmed", "crew", ("take",), "Anna's phone")


def test_code_is_read_however_it_is_typed_and_the_secret_does_as_well(pairings: Pairings) -> None:
    made = begun(pairings)
    typed = f" {made.code.replace('-', ' ').lower().replace('0', 'o').replace('1', 'l')} "
    assert pairings.claim(typed, "", 1)[0].ident == made.pairing.ident
    other = begun(pairings)
    assert pairings.claim(other.secret, "", 1)[0].ident == other.pairing.ident


def test_second_phone_sees_that_the_code_was_used_and_the_skipper_is_told(
        pairings: Pairings) -> None:
    made = begun(pairings)
    pairings.claim(made.code, "one", 1)
    with pytest.raises(Stopped) as caught:
        pairings.claim(made.secret, "two", 2)
    assert stopped(caught) == "pairing_used"
    assert pairings.look(made.pairing.ident, 3).second_try


def test_sixth_wrong_try_closes_the_pairing_even_to_the_right_code(pairings: Pairings) -> None:
    made = begun(pairings)
    said = []
    for guess in range(6):
        with pytest.raises(Stopped) as caught:
            pairings.claim(f"{guess:013d}", "", 1)
        said.append(stopped(caught))
    assert said == ["wrong_code"] * 5 + ["slow_down"]
    with pytest.raises(Stopped) as caught:
        pairings.claim(made.code, "", 2)
    assert stopped(caught) == "slow_down"


def test_code_ends_after_ten_minutes(pairings: Pairings) -> None:
    made = begun(pairings)
    with pytest.raises(Stopped) as caught:
        pairings.claim(made.code, "", GOOD_FOR_MS)
    assert stopped(caught) == "pairing_over"
    assert pairings.look(made.pairing.ident, GOOD_FOR_MS).state == "expired"
    begun(pairings, 3 * GOOD_FOR_MS)
    with pytest.raises(NotFound):
        pairings.look(made.pairing.ident, 3 * GOOD_FOR_MS)


def test_refused_phone_gets_nothing_and_nothing_is_confirmed_unseen(pairings: Pairings) -> None:
    made = begun(pairings)
    with pytest.raises(Conflict):
        pairings.decide(made.pairing.ident, True, 1)
    _, claim = pairings.claim(made.code, "", 1)
    pairings.decide(made.pairing.ident, False, 2)
    with pytest.raises(Stopped) as caught:
        pairings.collect(claim, 3)
    assert stopped(caught) == "pairing_refused"
    with pytest.raises(Conflict):
        pairings.decide(made.pairing.ident, True, 4)


def test_claim_of_another_is_not_known(pairings: Pairings) -> None:
    pairings.claim(begun(pairings).code, "", 1)
    with pytest.raises(Stopped) as caught:
        pairings.collect("0" * 64, 2)
    assert stopped(caught) == "pairing_over"


def test_who_asks_too_often_waits_and_others_do_not() -> None:
    rate = Rate(burst=3, a_minute=60)
    for _ in range(3):
        rate.spend("a", 0)
    with pytest.raises(Stopped) as caught:
        rate.spend("a", 100)
    assert caught.value.facts == {"stop": "slow_down", "retry_after_s": 1}
    rate.spend("b", 100)
    rate.spend("a", 1000)
    with pytest.raises(Stopped):
        rate.spend("a", 1000)
