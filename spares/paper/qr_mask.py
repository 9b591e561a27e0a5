"""A QR symbol with the mask that reads best, as the standard has the encoder choose it.

The qrcode package walks each of the eight masked symbols module by module. Here a symbol is
one whole number, a bit a module, in which what costs points is counted by shifts. And it is
made once: from mask to mask, symbols of one version and level differ by the same modules,
whatever they hold.

Source: ISO/IEC 18004, data masking (from memory); the tests hold each count against that of
the qrcode package.
"""

from __future__ import annotations

from functools import lru_cache

from qrcode import QRCode

MASKS = range(8)
_RUN, _BLOCK, _FINDER, _BALANCE = 2, 3, 40, 10      # points; a run has one more for each window


def rows_of(text: str, correction: int) -> tuple[str, ...]:
    """Give the rows of the smallest symbol for *text*, dark modules as 1, without quiet zone."""
    plain = _made(text, correction)
    side = plain.modules_count
    bits = _bits(plain)
    best = min((bits ^ other for other in _others(plain.version, correction)),
               key=lambda one: penalty(one, side))
    return _rows(best, side)


def penalty(dark: int, side: int) -> int:
    """Count what makes a symbol hard to read.

    Args:
        dark: Its modules row by row, 1 is dark; a 0 ends each row, so that no run crosses it [-].
        side: Modules in a row [-].
    """
    down = side + 1
    light = dark ^ _area(side)
    points = _BALANCE * (abs(20 * dark.bit_count() - 10 * side * side) // (side * side))
    for one in (dark, light):
        pairs = one & one >> 1
        points += _BLOCK * (pairs & pairs >> down).bit_count()
        for step in (1, down):
            pairs = one & one >> step
            fives = pairs & pairs >> 2 * step & one >> 4 * step
            points += fives.bit_count() + _RUN * (fives & ~(fives >> step)).bit_count()
    for step in (1, down):
        pairs = light & light >> step
        fours = pairs & pairs >> 2 * step
        finder = (dark & light >> step & dark >> 2 * step & dark >> 3 * step & dark >> 4 * step
                  & light >> 5 * step & dark >> 6 * step)
        points += _FINDER * ((finder & fours >> 7 * step).bit_count()
                             + (finder & fours << 4 * step).bit_count())
    return points


def _made(text: str, correction: int, version: int | None = None, mask: int = 0) -> QRCode:
    code = QRCode(version, correction, border=0, mask_pattern=mask)
    code.add_data(text)
    code.make(fit=False)        # without a version the smallest is taken all the same
    return code


def _bits(code: QRCode) -> int:
    return int("".join(f"{''.join(map('01'.__getitem__, row))}0" for row in code.modules), 2)


def _rows(bits: int, side: int) -> tuple[str, ...]:
    digits = f"{bits:0{side * (side + 1)}b}"
    return tuple(digits[at:at + side] for at in range(0, len(digits), side + 1))


@lru_cache
def _area(side: int) -> int:
    return int(("1" * side + "0") * side, 2)


@lru_cache
def _others(version: int, correction: int) -> tuple[int, ...]:
    """Give the modules in which the symbol of each mask differs from that of the first."""
    first, *more = (_bits(_made("0", correction, version, mask)) for mask in MASKS)
    return (0, *(first ^ one for one in more))
