"""QR symbols for a screen."""

from __future__ import annotations

from io import StringIO

from qrcode import QRCode
from qrcode.constants import ERROR_CORRECT_M

from spares.paper.qr import QUIET_MODULES


def qr_svg(text: str) -> str:
    """Draw *text* as a QR symbol: an SVG as wide as its box, dark on white with its quiet zone."""
    code = QRCode(error_correction=ERROR_CORRECT_M, border=QUIET_MODULES)
    code.add_data(text)
    code.make(fit=True)
    matrix = code.get_matrix()
    dark = "".join(f"M{x} {y}h1v1h-1z" for y, row in enumerate(matrix)
                   for x, module in enumerate(row) if module)
    side = len(matrix)
    return (f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {side} {side}" '
            f'shape-rendering="crispEdges" role="img"><rect width="{side}" height="{side}" '
            f'fill="#fff"/><path d="{dark}" fill="#000"/></svg>')


def qr_text(text: str) -> str:
    """Draw *text* as a QR symbol of block letters, for a terminal with a dark ground."""
    code = QRCode(error_correction=ERROR_CORRECT_M, border=2)
    code.add_data(text)
    code.make(fit=True)
    drawn = StringIO()
    code.print_ascii(out=drawn, invert=True)
    return drawn.getvalue().rstrip("\n")
