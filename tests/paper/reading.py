"""How tests look at paper: as a printer's dots, and through independent readers."""

from __future__ import annotations

import subprocess
from io import BytesIO
from pathlib import Path

import pypdf
import pypdfium2
import zxingcpp
from PIL import Image
from pyzbar import pyzbar

MM = 25.4 / 72
DARK_OR_LIGHT = 128


def sizes_mm(pdf: bytes) -> list[tuple[float, float]]:
    """Outer size of every page [mm]."""
    pages = pypdf.PdfReader(BytesIO(pdf)).pages
    return [(float(p.mediabox.width) * MM, float(p.mediabox.height) * MM) for p in pages]


def texts(pdf: bytes) -> list[str]:
    """Text of every page, lines joined by single spaces."""
    return [" ".join(p.extract_text().split()) for p in pypdf.PdfReader(BytesIO(pdf)).pages]


def thresholded(image: Image.Image) -> Image.Image:
    """What a printer makes of a picture: each dot is black or white."""
    return image.convert("L").point(lambda level: 255 if level >= DARK_OR_LIGHT else 0)


def pdfium_pages(pdf: bytes, dpi: int) -> list[Image.Image]:
    document = pypdfium2.PdfDocument(pdf)
    try:
        return [thresholded(page.render(scale=dpi / 72).to_pil()) for page in document]
    finally:
        document.close()


def poppler_pages(pdf: bytes, dpi: int, folder: Path) -> list[Image.Image]:
    """Pages as poppler paints them without smoothing."""
    file = folder / "pages.pdf"
    file.write_bytes(pdf)
    command = ["pdftoppm", "-r", str(dpi), "-gray", "-aa", "no", "-aaVector", "no"]
    subprocess.run([*command, str(file), str(folder / "page")], check=True, timeout=60)
    return [thresholded(Image.open(path)) for path in sorted(folder.glob("page-*.pgm"))]


def zxing_texts(image: Image.Image) -> list[str]:
    return sorted(found.text for found in zxingcpp.read_barcodes(image))


def zbar_texts(image: Image.Image) -> list[str]:
    symbols = [pyzbar.ZBarSymbol.QRCODE]
    return sorted(found.data.decode() for found in pyzbar.decode(image, symbols=symbols))
