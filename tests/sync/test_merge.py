"""What two people see who edited one thing without seeing each other."""

from __future__ import annotations

from spares.domain.movements import Entry
from spares.sync.merge import read_document, versions_of
from tests.histories import entry

DOC = "part/1"


def wrote(ident: str, dev: str, n: int, minute: float, seq: int, seen: int | None,
          base: dict | None = None, **fields: object) -> Entry:
    return entry(ident, dev, n, "set", minute, seq, seen, doc=DOC, f=fields, base=base or {})


MADE = wrote("s1", "A", 1, 0, 1, None, name="Impeller", note="")


def test_document_nobody_wrote_is_none() -> None:
    assert read_document([MADE], "part/2") is None


def test_later_edit_that_had_seen_the_earlier_replaces_it() -> None:
    later = wrote("s2", "B", 1, 5, 2, 1, {"name": ["s1"]}, name="Pump impeller")
    found = read_document([later, MADE, later], DOC)
    assert found.values == {"name": "Pump impeller", "note": ""}
    assert found.conflicts == {} and not found.gone


def test_two_unseen_edits_are_both_kept_and_the_later_shown() -> None:
    one = wrote("s2", "A", 2, 5, 3, 1, {"name": ["s1"]}, name="Impeller, 6 blades")
    two = wrote("s3", "B", 1, 6, 2, 1, {"name": ["s1"]}, name="Impeller, 8 blades")
    found = read_document([MADE, one, two], DOC)
    assert found.values["name"] == "Impeller, 8 blades"
    assert [version.change for version in found.conflicts["name"]] == ["s2", "s3"]


def test_two_unseen_edits_that_agree_are_no_conflict() -> None:
    one = wrote("s2", "A", 2, 5, 3, 1, {"name": ["s1"]}, name="Impeller, 6 blades")
    two = wrote("s3", "B", 1, 6, 2, 1, {"name": ["s1"]}, name="Impeller, 6 blades")
    assert read_document([MADE, one, two], DOC).conflicts == {}


def test_edits_of_two_fields_go_together() -> None:
    one = wrote("s2", "A", 2, 5, 3, 1, {"name": ["s1"]}, name="Impeller, 6 blades")
    two = wrote("s3", "B", 1, 6, 2, 1, {"note": ["s1"]}, note="greased")
    found = read_document([MADE, one, two], DOC)
    assert found.values == {"name": "Impeller, 6 blades", "note": "greased"}
    assert found.conflicts == {}


def test_edit_of_another_field_does_not_revive_what_was_deleted() -> None:
    deleted = wrote("s2", "A", 2, 5, 3, 1, gone=True)
    edited = wrote("s3", "B", 1, 6, 2, 1, {"note": ["s1"]}, note="greased")
    found = read_document([MADE, deleted, edited], DOC)
    assert found.gone and found.edited_while_gone == ("s3",)
    assert found.values["note"] == "greased"


def test_edit_that_the_deleter_had_seen_is_not_told_as_a_surprise() -> None:
    edited = wrote("s3", "B", 1, 3, 2, 1, {"note": ["s1"]}, note="greased")
    deleted = wrote("s2", "A", 2, 5, 3, 2, gone=True)
    assert read_document([MADE, deleted, edited], DOC).edited_while_gone == ()


def test_deleted_thing_can_be_brought_back() -> None:
    deleted = wrote("s2", "A", 2, 5, 2, 1, gone=True)
    back = wrote("s3", "A", 3, 6, 3, 1, {"gone": ["s2"]}, gone=False)
    assert not read_document([MADE, deleted, back], DOC).gone


def test_restamped_version_moves_to_its_smaller_stamp() -> None:
    late = wrote("s2", "B", 1, 9, 2, 1, {"name": ["s1"]}, name="early after all")
    other = wrote("s3", "A", 2, 5, 3, 1, {"name": ["s1"]}, name="shown")
    restamp = entry("r", "S", 1, "restamp", 20, 4, None, of="s2", at="0000000000ff.0000.B")
    assert read_document([MADE, late, other], DOC).values["name"] == "early after all"
    assert read_document([MADE, late, other, restamp], DOC).values["name"] == "shown"


def test_versions_of_a_field_are_listed_with_author_and_order() -> None:
    later = wrote("s2", "B", 1, 5, 2, 1, {"name": ["s1"]}, name="Pump impeller")
    listed = versions_of([later, MADE], DOC)["name"]
    assert [version.value for version in listed] == ["Impeller", "Pump impeller"]
