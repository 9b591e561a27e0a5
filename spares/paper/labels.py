"""Labels for lockers, machines and bags, as a PDF whose outer size is exact."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from io import BytesIO
from urllib.parse import urlsplit

from reportlab.pdfgen.canvas import Canvas

from spares.domain import codes
from spares.errors import InvalidInput
from spares.paper import lettering, qr
from spares.paper.label_face import SIZES, Face, LabelSize, draw_face
from spares.paper.language import ENGLISH, Words
from spares.paper.lettering import BOLD, PLAIN, Row
from spares.paper.points import POINTS_PER_MM
from spares.paper.sheet import PAGES_MM, Place, Sheet, places

DPI = (203, 300, 600)


@dataclass(frozen=True, slots=True)
class LockerLabel:
    """For a locker: no count stands on it, as a count goes stale."""

    vessel_mark: str
    code: str
    name: str
    no: str = ""


@dataclass(frozen=True, slots=True)
class MachineLabel:
    """For a machine's frame, not for a cover that is taken off."""

    vessel_mark: str
    code: str
    name: str
    serial: str = ""
    no: str = ""


@dataclass(frozen=True, slots=True)
class BagLabel:
    """For a bag or a labelled lot; dates are ISO text as far as known, or words."""

    vessel_mark: str
    code: str
    name: str
    maker: str = ""
    number: str = ""
    fits: tuple[str, ...] = ()
    condition: str = ""
    date_in: str | None = None
    use_by: str | None = None


AnyLabel = LockerLabel | MachineLabel | BagLabel
_LETTERS = {LockerLabel: codes.LOCKER, MachineLabel: codes.MACHINE, BagLabel: codes.BAG}


def labels_pdf(
    labels: Sequence[AnyLabel], *, size: str, sheet: Sheet | None = None,
    dpi: int = 300, address: str | None = None, say: Words = ENGLISH,
) -> bytes:
    """Draw labels of one size, each a page of its own or in places on sheets.

    `size` is S (40 x 20 mm), M (70 x 36 mm) or L (100 x 60 mm); `dpi` is the
    printer's, 203, 300 or 600. With `address`, such as `https://tgl.local:8443`,
    the symbol opens the page in any phone's camera; without it the symbol holds
    the short text, which survives any change of address. InvalidInput names what
    cannot be printed. The same labels give the same bytes.
    """
    _check(labels, size, dpi, address)
    form = SIZES[size]
    buffer = BytesIO()
    page_mm = PAGES_MM[sheet.page] if sheet and sheet.page in PAGES_MM else (
        form.width_mm, form.height_mm)
    canvas = Canvas(buffer, pagesize=(page_mm[0] * POINTS_PER_MM, page_mm[1] * POINTS_PER_MM),
                    invariant=1, initialFontName="Helvetica")
    canvas.setTitle(say("title.labels"))
    page_number = 0
    for label, place in zip(
            labels, places(sheet, form.width_mm, form.height_mm, len(labels)), strict=True):
        if place.page_number != page_number:
            canvas.showPage()
            page_number = place.page_number
        _draw(canvas, label, _rows(say, label, form), form, place, page_mm[1], dpi, address)
        if sheet and sheet.outline:
            _outline(canvas, form, place, page_mm[1])
    canvas.showPage()
    canvas.save()
    return buffer.getvalue()


def symbol_text(label: AnyLabel, address: str | None = None) -> str:
    """Give the text in the label's symbol; InvalidInput if the label names no code."""
    short = codes.label_text(label.vessel_mark, _LETTERS[type(label)], label.code)
    return codes.address_text(address, short) if address else short


#: What people wrote of what stands on a label.
_WRITTEN = ("vessel_mark", "no", "name", "serial", "maker", "number", "fits")


def missing_characters(labels: Iterable[AnyLabel]) -> str:
    """Give the characters that will stand as `?`, for the person to be told."""
    return lettering.missing_characters(
        "".join(getattr(label, field, "")) for label in labels for field in _WRITTEN)


def _check(labels: Sequence[AnyLabel], size: str, dpi: int, address: str | None) -> None:
    if not labels:
        raise InvalidInput.at("#/labels", "there is no label to print")
    if size not in SIZES:
        raise InvalidInput.at("#/size", f"must be one of {', '.join(SIZES)}")
    if dpi not in DPI:
        raise InvalidInput.at("#/dpi", f"must be one of {', '.join(map(str, DPI))}")
    if address is not None:
        parts = urlsplit(address)
        if parts.scheme not in ("http", "https") or not parts.netloc:
            raise InvalidInput.at("#/address", "must begin with http:// or https:// and a name")


def _draw(canvas: Canvas, label: AnyLabel, rows: tuple[Row, ...], form: LabelSize, place: Place,
          page_height_mm: float, dpi: int, address: str | None) -> None:
    symbol = qr.symbol(symbol_text(label, address), short=not address,
                       box_pt=form.symbol_mm * POINTS_PER_MM, dpi=dpi)
    face = Face(symbol, codes.normalise(label.code), rows,
                pencil_line=isinstance(label, BagLabel))
    draw_face(canvas, face, form, place, page_height_mm)


def _rows(say: Words, label: AnyLabel, form: LabelSize) -> tuple[Row, ...]:
    mark = " · ".join(filter(None, [label.vessel_mark, getattr(label, "no", "")]))
    name = Row(label.name, BOLD, form.name_pt, form.smallest_pt)

    def small(text: str, font: str = PLAIN) -> Row:
        return Row(text, font, form.small_pt, form.smallest_pt)

    match label:
        case LockerLabel():
            return name, small(mark)
        case MachineLabel():
            return name, small(
                say("label.serial", serial=label.serial or say("common.not_known"))), small(mark)
        case BagLabel():
            condition = say.word("condition", label.condition) if label.condition else ""
            came = say("label.in", day=say.day(label.date_in)) if label.date_in else ""
            return (
                name,
                small(" ".join(filter(None, [label.maker, label.number]))),
                small(say("label.fits", fits=", ".join(label.fits)) if label.fits
                      else say("label.fits_none")),
                small(" · ".join(filter(None, [mark, condition, came]))),
                small(say("label.use_by", day=say.day(label.use_by)) if label.use_by else "",
                      BOLD),
            )


def _outline(canvas: Canvas, form: LabelSize, place: Place, page_height_mm: float) -> None:
    canvas.setLineWidth(0.25)
    canvas.setStrokeGray(0.6)
    canvas.rect(place.left_mm * POINTS_PER_MM,
                (page_height_mm - place.top_mm - form.height_mm) * POINTS_PER_MM,
                form.width_mm * POINTS_PER_MM, form.height_mm * POINTS_PER_MM, stroke=1, fill=0)
