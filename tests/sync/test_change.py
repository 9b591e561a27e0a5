"""A change is taken exactly as it should be, or refused with its reason."""

from __future__ import annotations

import hashlib
import hmac
import json

import pytest
import rfc8785
from hypothesis import given
from hypothesis import strategies as st

from spares.errors import InvalidInput, Refused
from spares.sync.change import (
    FIRST_HEAD,
    KINDS,
    Change,
    canonical,
    content_hash,
    envelope_from_json,
    mac_is_good,
    next_head,
    parse_change,
    parse_json_strict,
    seal,
)

U = "00000000-0000-4000-8000-00000000000{}"
PART, OTHER_PART = "part/" + U.format(1), "part/" + U.format(2)
LOCKER, OTHER_LOCKER = "locker/" + U.format(3), "locker/" + U.format(4)
LOT = "lot/" + U.format(5)
MACHINE, POINT = "machine/" + U.format(6), "fit-point/" + U.format(7)
ID, OTHER_ID = U.format(8), U.format(9)
EPOCH = "0123456789abcdef"
KEY = bytes(range(32))
LINE = {"part": PART, "locker": LOCKER, "lot": "", "q": 1000}

BODIES = {
    "took": LINE, "put": {**LINE, "lot": LOT}, "landed": {**LINE, "note": "over the side"},
    "moved": {"part": PART, "from": LOCKER, "to": OTHER_LOCKER, "lot": "", "q": 1},
    "counted": {**LINE, "q": 0, "shown": -1000},
    "convert": {"out": [LINE], "in": [{**LINE, "part": OTHER_PART, "q": 10_000}]},
    "service": {"machine": MACHINE, "date": "2027-03", "minutes": 60, "by": "Wren",
                "proof": "seen", "lines": []},
    "void": {"of": OTHER_ID}, "settle": {"of": OTHER_ID, "count": ID, "side": "before"},
    "same": {"keep": PART, "drop": OTHER_PART},
    "set": {"doc": PART, "f": {"name": "Impeller", "bore": {"value": "15.9", "unit": "mm"}},
            "base": {"name": [OTHER_ID]}},
    "fit-check": {"point": POINT, "part": PART, "inputs": {"offers": {}}, "verdict": "fits"},
    "photo": {"doc": PART, "sha256": "ab" * 32, "bytes": 1000, "mime": "image/jpeg"},
    "reading": {"machine": MACHINE, "value": "603.0", "unit": "h", "date": "2027-03-15"},
    "exchange": {"point": POINT, "part": PART, "from": LOCKER, "old_to": "landed",
                 "date": "2027-03-15"},
}


def raw(kind: str = "took", body: object = None, **other: object) -> dict:
    body = BODIES[kind] if body is None else body
    return {"id": ID, "n": 1, "kind": kind, "v": 1, "t": 1_800_000_000_000, "seen": None,
            "after": "", "body": body, **other}


def without(obj: dict, *names: str) -> dict:
    return {name: value for name, value in obj.items() if name not in names}


@pytest.mark.parametrize("kind", sorted(BODIES))
def test_change_of_each_kind_comes_back_as_it_was_sent(kind: str) -> None:
    change = parse_change(raw(kind))
    assert change.to_json() == raw(kind)


def test_every_kind_has_an_example_here() -> None:
    assert set(KINDS) == set(BODIES) | {"restamp"}


def test_change_keeps_its_grade_and_what_its_author_had_seen() -> None:
    given = raw(g=1, seen={"epoch": EPOCH, "seq": 7}, after="00000000ffff.0001.b0000002")
    assert parse_change(given).to_json() == given


BAD = [
    # what a client must not add, and what it must not leave out
    *[(raw(**{name: 1}), "bad_shape") for name in ("dev", "at", "mac", "seq", "role", "pos")],
    (raw(g=0), "bad_shape"), (raw(g=True), "bad_shape"),
    *[(without(raw(), name), "bad_shape") for name in raw()],
    ([], "bad_shape"), ("took", "bad_shape"), (None, "bad_shape"),
    # names and numbers of the change
    (raw(id=ID.upper().replace("8", "A")), "bad_shape"), (raw(id="../../etc/passwd"), "bad_shape"),
    (raw(id=7), "bad_shape"), (raw(id="x" * 10_000), "bad_shape"),
    (raw(n=0), "bad_shape"), (raw(n=2**63), "bad_shape"), (raw(n=True), "bad_shape"),
    (raw(n=1.0), "bad_shape"), (raw(v=2), "bad_shape"), (raw(v=0), "bad_shape"),
    (raw(t="now"), "bad_value"), (raw(t=1.0), "bad_value"), (raw(t=True), "bad_value"),
    (raw(seen={"epoch": EPOCH}), "bad_shape"), (raw(seen=3), "bad_shape"),
    (raw(seen={"epoch": EPOCH, "seq": -1}), "bad_shape"),
    (raw(seen={"epoch": EPOCH, "seq": 10**18}), "bad_shape"),
    (raw(seen={"epoch": "main", "seq": 1}), "bad_shape"),
    (raw(after="zzz"), "bad_shape"), (raw(after=None), "bad_shape"),
    (raw(kind="teleported", body={}), "bad_shape"), (raw(kind=7, body={}), "bad_value"),
    (raw(kind="restamp", body={"of": ID, "at": "0" * 12 + ".0000.a0000001"}), "not_allowed"),
    # quantities
    *[(raw("took", {**LINE, "q": q}), "bad_value")
      for q in (-1, 0, 10**9 + 1, 2**53, "5", True, 1.0, 1.5, None, [1])],
    (raw("counted", {**LINE, "q": -1}), "bad_value"),
    # movements that are none
    (raw("moved", {**BODIES["moved"], "to": LOCKER}), "bad_value"),
    (raw("moved", {**BODIES["moved"], "to": LOCKER, "to_lot": ""}), "bad_value"),
    (raw("convert", {"out": [], "in": [LINE]}), "bad_value"),
    (raw("convert", {"out": [LINE] * 501, "in": [LINE]}), "bad_value"),
    (raw("convert", {"out": {}, "in": [LINE]}), "bad_shape"),
    (raw("service", {"lines": [LINE] * 501}), "bad_value"),
    (raw("service", {}), "bad_shape"),
    (raw("same", {"keep": PART, "drop": PART}), "bad_value"),
    # references
    *[(raw("took", {**LINE, "part": part}), "bad_shape")
      for part in (LOCKER, U.format(1), "part/", "part/P017", "part/../x", 1, None, [],
                   PART + "\n", "<script>")],
    (raw("took", {**LINE, "lot": None}), "bad_shape"), (raw("took", without(LINE, "lot")),
                                                        "bad_shape"),
    (raw("took", {**LINE, "colour": "red"}), "bad_shape"),
    # texts
    (raw("took", {**LINE, "note": "x" * 2001}), "too_long"),
    (raw("took", {**LINE, "note": "half \ud83d"}), "bad_value"),
    (raw("took", {**LINE, "note": "a\x00b"}), "bad_value"),
    (raw("took", {**LINE, "note": 5}), "bad_value"),
    (raw("took", {**LINE, "batch": "b" * 65}), "too_long"),
    # documents
    *[(raw("set", {"doc": PART, "f": {name: 1}, "base": {}}), "bad_shape")
      for name in ("__proto__", "constructor", "prototype", "Gone", "a" * 40, "", "a-b", "é")],
    (raw("set", {"doc": PART, "f": {}, "base": {}}), "bad_value"),
    (raw("set", {"doc": PART, "f": {"a": 1.5}, "base": {}}), "bad_value"),
    (raw("set", {"doc": PART, "f": {"a": 2**53}, "base": {}}), "bad_value"),
    (raw("set", {"doc": PART, "f": {"a": [[[[[1]]]]]}, "base": {}}), "bad_value"),
    (raw("set", {"doc": PART, "f": {"a": {"__proto__": 1}}, "base": {}}), "bad_shape"),
    (raw("set", {"doc": PART, "f": {"a": "x" * 4001}, "base": {}}), "too_long"),
    (raw("set", {"doc": PART, "f": {"a": 1}, "base": {"b": [ID]}}), "bad_shape"),
    (raw("set", {"doc": PART, "f": {"a": 1}, "base": {"a": ["x"]}}), "bad_shape"),
    (raw("set", {"doc": PART, "f": {"a": 1}, "base": {"a": ID}}), "bad_shape"),
    (raw("set", {"doc": "part", "f": {"a": 1}, "base": {}}), "bad_shape"),
    (raw("set", {"doc": PART, "base": {}, "f": {f"f{i}": "é" * 4000 for i in range(10)}}),
     "too_long"),
    # the rest
    (raw("void", {"of": "all"}), "bad_shape"),
    (raw("settle", {"of": ID, "count": OTHER_ID, "side": "left"}), "bad_value"),
    (raw("reading", {"machine": MACHINE, "date": "2027-03-15"}), "bad_shape"),
    (raw("reading", {"machine": MACHINE, "date": "2027-03-15", "minutes": 1, "value": "1"}),
     "bad_shape"),
    (raw("reading", {"machine": MACHINE, "date": "2027-02-30", "minutes": 1}), "bad_value"),
    (raw("reading", {"machine": MACHINE, "date": "15.3.2027", "minutes": 1}), "bad_value"),
    (raw("reading", {"machine": MACHINE, "date": "2027", "value": "6,3"}), "bad_value"),
    (raw("exchange", {**BODIES["exchange"], "part": ""}), "bad_value"),
    (raw("exchange", {**BODIES["exchange"], "old_to": LOCKER}), "bad_shape"),
    (raw("photo", {**BODIES["photo"], "sha256": "AB" * 32}), "bad_shape"),
    (raw("photo", {**BODIES["photo"], "mime": "image/svg+xml"}), "bad_value"),
    (raw("photo", {**BODIES["photo"], "bytes": 5 * 1024 * 1024 + 1}), "bad_value"),
    (raw("fit-check", {**BODIES["fit-check"], "verdict": "perhaps"}), "bad_value"),
]


@pytest.mark.parametrize(("given", "reason"), BAD)
def test_malformed_change_is_refused_with_its_reason(given: object, reason: str) -> None:
    with pytest.raises(Refused) as caught:
        parse_change(given)
    assert caught.value.facts["reason"] == reason
    assert caught.value.facts["pointer"].startswith("#/")
    json.dumps(caught.value.problem()).encode("utf-8")


def test_refusal_points_at_the_value_that_is_wrong() -> None:
    with pytest.raises(Refused) as caught:
        parse_change(raw("convert", {"out": [LINE], "in": [LINE, {**LINE, "q": 0}]}))
    assert caught.value.facts["pointer"] == "#/body/in/1/q"


@pytest.mark.parametrize(("t", "kept"), [(-1, -1), (0, 0), (10**18, 2**53 - 1),
                                         (-(10**18), -(2**53) + 1)])
def test_mad_clock_is_cut_and_the_movement_is_kept(t: int, kept: int) -> None:
    change = parse_change(raw(t=t))
    assert change.t == kept
    assert len(content_hash(change)) == 64


@pytest.mark.parametrize("raw_text", [
    b'{"a": NaN}', b'{"a": Infinity}', b'{"a": -Infinity}', b'{"a": 1e400}', b'{"a": 1, "a": 2}',
    b'{"a": {"b": 1, "b": 1}}', b"[" * 65 + b"]" * 65, b'[{"a":' * 33 + b"1" + b"}]" * 33,
    b"[" * 100_000 + b"]" * 100_000, b"9" * 5000,
    b'{"a": ' + b"9" * 41 + b"}", b"\xef\xbb\xbf{}", b'{"a": "\xff"}', b"{} {}", b"{}x", b"",
    b"{'a': 1}", b'{"a": 01}', b'{"a": "\x01"}', b"[1,]", "{}".encode("utf-16")])
def test_doubtful_json_is_not_taken(raw_text: bytes) -> None:
    with pytest.raises(InvalidInput) as caught:
        parse_json_strict(raw_text)
    assert caught.value.facts["errors"][0]["pointer"] == "#"


@pytest.mark.parametrize("raw_text", [
    b'{"a": [1, -2, 0.5, "\\u00e9[[[{{{", true, null]}', b"[]", b'"\\\\"', b" 7 ",
    b"[" * 64 + b"]" * 64, b'[{"a":' * 32 + b"1" + b"}]" * 32,
    b'{"[":' * 64 + b"1" + b"}" * 64, b'["' + b"[" * 70 + b'"]'])
def test_sound_json_reads_as_the_library_reads_it(raw_text: bytes) -> None:
    assert parse_json_strict(raw_text) == json.loads(raw_text)


def test_half_a_character_passes_the_reader_and_stops_only_its_own_change() -> None:
    assert parse_json_strict(b'["\\ud83d", 1]') == ["\ud83d", 1]


def test_canonical_form_is_that_of_rfc_8785() -> None:
    # RFC 8785, section 3.2.3: the property names of its sorting example, in its printed order.
    given = {"\u20ac": "Euro Sign", "\r": "Carriage Return", "\ufb33": "Hebrew Letter Dalet",
             "1": "One", "\U0001f600": "Emoji: Grinning Face", "\u0080": "Control",
             "\u00f6": "Latin Small Letter O With Diaeresis"}
    order = [canonical(given).index(name.encode()) for name in (
        "Carriage Return", "One", "Control", "Latin Small", "Euro Sign", "Emoji", "Hebrew")]
    assert order == sorted(order)


@given(st.recursive(
    st.none() | st.booleans() | st.integers(-2**53 + 1, 2**53 - 1) | st.text()
    | st.floats(allow_nan=False, allow_infinity=False),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text(max_size=3), inner,
                                                                max_size=6)))
def test_canonical_form_is_that_of_a_library(value: object) -> None:
    try:
        wanted = rfc8785.dumps(value)
    except rfc8785.CanonicalizationError:       # half a character
        with pytest.raises(rfc8785.CanonicalizationError):
            canonical(value)
    else:
        assert canonical(value) == wanted


def test_whole_number_that_javascript_rounds_has_no_canonical_form() -> None:
    with pytest.raises(rfc8785.IntegerDomainError):
        canonical({"q": 2**53})


def test_hash_of_content_ignores_number_and_grade_alone() -> None:
    same = content_hash(parse_change(raw()))
    assert content_hash(parse_change(raw(n=9, g=1))) == same
    for other in (raw(id=OTHER_ID), raw("landed", LINE), raw(t=5), raw("took", {**LINE, "q": 2}),
                  raw(after="00000000ffff.0001.b0000002"), raw(seen={"epoch": EPOCH, "seq": 1})):
        assert content_hash(parse_change(other)) != same


def sealed(change: Change | None = None):
    return seal(change or parse_change(raw()), dev="a0000001", at="000000000064.0000.a0000001",
                g=0, pos={EPOCH: 3}, key=KEY)


def test_seal_is_the_first_half_of_an_hmac_over_the_canonical_envelope() -> None:
    obj = sealed().to_json()
    mac = obj.pop("mac")
    # plain ASCII and whole numbers: sorted keys without blanks are the canonical form
    text = json.dumps(obj, sort_keys=True, separators=(",", ":")).encode()
    assert mac == hmac.new(KEY, text, hashlib.sha256).hexdigest()[:32]


def test_seal_breaks_with_any_changed_field() -> None:
    good = sealed().to_json()
    assert mac_is_good(envelope_from_json(good), KEY)
    assert not mac_is_good(envelope_from_json(good), bytes(32))
    for name, value in {"id": OTHER_ID, "n": 2, "t": 0, "g": 1, "dev": "b0000002",
                        "seen": {"epoch": EPOCH, "seq": 1}, "pos": {EPOCH: 4},
                        "at": "000000000065.0000.a0000001", "mac": "0" * 32,
                        "after": "000000000001.0000.b0000002", "kind": "landed",
                        "body": {**LINE, "q": 2000}}.items():
        assert not mac_is_good(envelope_from_json({**good, name: value}), KEY), name


def test_envelope_that_is_malformed_is_refused() -> None:
    good = sealed().to_json()
    for bad in ({**good, "x": 1}, without(good, "g"), {**good, "dev": "a"}, {**good, "pos": {}},
                {**good, "pos": {EPOCH: 0}}, {**good, "mac": "0"}, {**good, "t": 2**60},
                {**good, "at": ""}, {**good, "body": {}}):
        with pytest.raises(Refused):
            envelope_from_json(bad)


def test_chain_changes_with_every_envelope_and_its_place() -> None:
    one, two = sealed(), sealed(parse_change(raw(id=OTHER_ID)))
    head = next_head(next_head(FIRST_HEAD, one), two)
    assert head != next_head(next_head(FIRST_HEAD, two), one)
    inner = hashlib.sha256(canonical(one.to_json())).digest()
    assert next_head(FIRST_HEAD, one) == hashlib.sha256(bytes(32) + inner).digest()
