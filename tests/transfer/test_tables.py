"""Files that come in: what is read, and how each fault is named."""

from __future__ import annotations

import io
import stat
import struct
import zipfile

import pytest

from spares.errors import InvalidInput
from spares.transfer import archive, tables
from spares.transfer.tables import read_tables

KEEP = b"part;quantity\nP074;1\nP103;10\n"


def keep(content: bytes) -> list[tuple[int, str, int]]:
    rows = read_tables(content, "keep.csv")["keep"]
    return [(row.number, row.get("part"), row.get("quantity")) for row in rows]


def faults(content: bytes, name: str = "keep.csv") -> list[tuple[str, str]]:
    with pytest.raises(InvalidInput) as caught:
        read_tables(content, name)
    return [(e["pointer"], e["detail"]) for e in caught.value.facts["errors"]]


def refusal(content: bytes, name: str = "import.zip") -> str:
    with pytest.raises(InvalidInput) as caught:
        read_tables(content, name)
    return caught.value.detail


def zip_of(*files: tuple[str | zipfile.ZipInfo, bytes]) -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as made:
        for name, content in files:
            made.writestr(name, content)
    return out.getvalue()


@pytest.mark.parametrize("content", [
    KEEP, b"\xef\xbb\xbf" + KEEP, KEEP.replace(b"\n", b"\r\n"), KEEP.replace(b";", b","),
    b'"Part"; "quantity"\n"P074";"1"\nP103;10,0', b"quantity,part\n1,P074\n10.000,P103\n"])
def test_delimiter_mark_of_order_line_ends_and_quotes_do_not_matter(content):
    assert keep(content) == [(2, "P074", 1000), (3, "P103", 10_000)]


def test_rows_are_counted_as_a_spreadsheet_counts_them():
    content = b'part;quantity\n\n;\nP074;1\nP103;10\n'
    assert [number for number, *_ in keep(content)] == [4, 5]
    notes = b'part;locker;quantity;note\nP1;L1;1;"two\nlines"\nP2;L1;1;\n'
    assert [row.number for row in read_tables(notes, "stock.csv")["stock"]] == [2, 3]


def test_all_faults_are_named_at_once_with_file_row_and_column():
    content = zip_of(("keep.csv", b"part;quantity\nP074;one\n;1\nP1;1;1\n"),
                     ("kits.csv", b"service;part;amount\nS01;P001;1\n"))
    with pytest.raises(InvalidInput) as caught:
        read_tables(content)
    assert [e["pointer"] for e in caught.value.facts["errors"]] == [
        "#/keep.csv/2/quantity", "#/keep.csv/3/part", "#/keep.csv/4", "#/kits.csv"]
    assert "'amount'" in caught.value.facts["errors"][-1]["detail"]
    assert caught.value.detail.startswith("keep.csv, row 2, quantity: ")
    assert caught.value.detail.endswith("(and 3 more)")


@pytest.mark.parametrize(("content", "says"), [
    (b"part;quantity\nP074;1\xe6\n", "byte 20 (0xe6, line 2) is not UTF-8"),
    (b"\xef\xbb\xbfpart;quantity\nP\xff74;1\n", "byte 18 (0xff, line 2) is not UTF-8"),
    (b"part\nP074\n", "column quantity is missing"),
    (b"part;quantity;part\n", "column part is there twice"),
    (b"", "the first line must hold the column names"),
    (b'part;quantity\n"P074;1\n', "line 2: "),
    (b'part;quantity\n"P0"74;1\n', "line 2: ")])
def test_a_file_that_is_no_table_says_why(content, says):
    ((pointer, detail),) = faults(content)
    assert pointer == "#/keep.csv"
    assert says in detail


@pytest.mark.parametrize("letter", ["\x00", "\x07", "\x1b", "\x7f", "\x85"])
def test_control_characters_are_refused_by_name(letter):
    content = f"part;quantity\nP0{letter}74;1\n".encode()
    ((pointer, detail),) = faults(content)
    assert pointer == "#/keep.csv/2/part"
    assert f"U+{ord(letter):04X}" in detail


def test_limits_hold(monkeypatch):
    monkeypatch.setattr(tables, "MOST_ROWS", 2)
    assert faults(KEEP + b"P1;1\n") == [("#/keep.csv", "more than 2 rows")]
    long = b"part;locker;quantity;note\nP1;L1;1;" + b"x" * 4001 + b"\n"
    assert faults(long, "stock.csv") == [("#/stock.csv/2/note", "longer than 4000 characters")]
    many = ";".join(f"c{n}" for n in range(101)).encode()
    assert faults(many)[0][1] == "more than 100 columns"
    assert "larger than 10 MB" in refusal(b"x" * 10_000_001, "keep.csv")


def test_a_cell_kept_from_being_a_formula_loses_its_mark():
    content = "part;locker;quantity;note\nP1;L1;1;'=1+1\nP2;L1;1;'quoted'\nP3;L1;1;''@x\n"
    notes = [row.get("note") for row in read_tables(content.encode(), "stock.csv")["stock"]]
    assert notes == ["=1+1", "'quoted'", "'@x"]


def test_an_unknown_table_names_those_there_are():
    ((pointer, detail),) = faults(KEEP, "keeps.csv")
    assert pointer == "#/keeps.csv"
    assert "keep" in detail and "stock" in detail


def test_a_folder_and_an_archive_with_a_folder_are_read_alike(tmp_path):
    (tmp_path / "Keep.csv").write_bytes(KEEP)
    (tmp_path / ".hidden").write_bytes(b"\x00")
    zipped = zip_of(("tangloppe/keep.csv", KEEP), ("__MACOSX/._keep.csv", b"\x00"),
                    ("tangloppe/.DS_Store", b"\x00"))
    assert read_tables(tmp_path) == read_tables(zipped) == read_tables(tmp_path / "Keep.csv")


def linked() -> zipfile.ZipInfo:
    entry = zipfile.ZipInfo("keep.csv")
    entry.external_attr = (stat.S_IFLNK | 0o777) << 16
    return entry


@pytest.mark.parametrize(("files", "says"), [
    ([("../keep.csv", KEEP)], "such a path"), ([("/etc/keep.csv", KEEP)], "such a path"),
    ([("a\\keep.csv", KEEP)], "such a path"), ([("C:keep.csv", KEEP)], "such a path"),
    ([(linked(), b"/etc/passwd")], "links"),
    ([("a/keep.csv", KEEP), ("b/Keep.csv", KEEP)], "there twice"),
    ([("photo.jpg", b"")], "ends in .csv"), ([("keep.csv", b"0" * 10_000_001)], "larger than"),
    ([(f"{n}.csv", b"") for n in range(101)], "more than 100"), ([], "there is no table")])
def test_an_archive_is_not_believed(files, says):
    assert says in refusal(zip_of(*files))


def test_an_archive_whose_stated_size_is_a_lie_is_refused():
    content = bytearray(zip_of(("keep.csv", KEEP * 1000)))
    directory = content.index(b"PK\x01\x02")
    content[directory + 24:directory + 28] = struct.pack("<I", 10)
    assert "damaged" in refusal(bytes(content))


def test_a_locked_or_cut_archive_is_refused():
    content = bytearray(zip_of(("keep.csv", KEEP)))
    content[content.index(b"PK\x01\x02") + 8] |= 1
    assert "locked" in refusal(bytes(content))
    whole = zip_of(("keep.csv", KEEP))
    assert "damaged" in refusal(whole[:-10])


def test_files_that_swell_together_beyond_the_limit_are_refused(monkeypatch):
    monkeypatch.setattr(archive, "LARGEST_TOTAL", 1000)
    assert "in all" in refusal(zip_of(("keep.csv", b"0" * 600), ("kits.csv", b"0" * 600)))


def test_a_file_that_is_not_there_is_named(tmp_path):
    with pytest.raises(InvalidInput, match="parts.csv: cannot be read"):
        read_tables(tmp_path / "parts.csv")


def of_one_table(packing: int) -> bytearray:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", packing) as archive:
        archive.writestr("parts.csv", "no,name\n" + "P1,Impeller\n" * 500)
    return bytearray(out.getvalue())


@pytest.mark.parametrize("packing", [zipfile.ZIP_BZIP2, zipfile.ZIP_LZMA, zipfile.ZIP_DEFLATED])
def test_an_archive_damaged_inside_is_refused_however_it_is_packed(packing):
    archive = of_one_table(packing)
    archive[56:76] = bytes(one ^ 0xFF for one in archive[56:76])       # behind the first header
    with pytest.raises(InvalidInput, match="damaged"):
        read_tables(bytes(archive), "x.zip")


def test_an_archive_with_a_name_that_is_no_text_is_refused():
    archive = of_one_table(zipfile.ZIP_STORED)
    listed = archive.rfind(b"PK\x01\x02")         # APPNOTE.TXT 4.3.12 of zip, from memory
    archive[listed + 9] |= 0x08                    # says that the name is UTF-8
    archive[listed + 46] = 0xFF
    with pytest.raises(InvalidInput, match="damaged"):
        read_tables(bytes(archive), "x.zip")
