"""Put attributes in the place of a designation before anything is compared.

`6203-2RS C3` stands for bore, outside diameter, width, closure and clearance. What is stated
beside a code replaces what the code says; a tolerance beside it holds for its length. A code
that nobody here can read stays as it is.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from spares.domain.fit.designations import Designation, read_designation
from spares.domain.fit.sheets import KindSheet
from spares.domain.fit.values import Claim, Origin
from spares.errors import InvalidInput

CODES = ("code", "flange_code", "key_width")     # a key may be written 5x5


def expand(found: KindSheet, claims: Sequence[Claim], *, asked: bool) -> list[list[Claim]]:
    """Give the claims with their designations expanded; a list of codes gives alternatives.

    Args:
        found: The kind sheet [-].
        claims: What is asked or offered [-].
        asked: Whether these are requirements [-].

    Returns:
        One list of claims an alternative, at least one [-].

    Raises:
        InvalidInput: several codes are given for one part.

    Source:
        Counting rule of this project; no standard applies.
    """
    alternatives: list[list[Claim]] = [[]]
    stated = {claim.attr for claim in claims}
    for claim in claims:
        codes = claim.value if isinstance(claim.value, list) else [claim.value]
        if claim.attr not in CODES or not codes:
            options = [[claim]]
        elif len(codes) > 1 and not asked:
            raise InvalidInput.at(f"{claim.where}/value", "one code is needed")
        else:
            options = [_options(found, replace(claim, value=code), stated, asked)
                       for code in codes]
        alternatives = [[*so_far, *option] for so_far in alternatives for option in options]
    return alternatives


def _options(found: KindSheet, claim: Claim, stated: set[str], asked: bool) -> list[Claim]:
    read = None if claim.value is None or claim.assumed else read_designation(
        found.kind, str(claim.value), claim.attr)
    if read is None:
        return [claim]
    made = [_claim(claim, read, attr, value) for attr, value in read.attributes.items()
            if attr in found.attributes and attr not in stated - {claim.attr}]
    if asked:
        made += [Claim(attr, None, pointer=claim.where, code=claim.value, spelt=read.text)
                 for attr in read.asks_also if attr not in stated]
        return made + _series(claim, read)
    return made if claim.attr in read.attributes else [
        *made, replace(claim, code=read.series, spelt=read.text)]


def _claim(claim: Claim, read: Designation, attr: str, value: Any) -> Claim:
    severity = claim.severity if claim.severity == "advisory" else None
    tol, unit = (claim.tol, claim.unit) if attr == "length" and claim.tol is not None else (
        None, None)
    if unit is not None:    # it is the tolerance's; the code says its length in its own
        value = {**value, "value": f"{value['value']} {value['unit']}"}
    return Claim(attr, value, tol=tol, severity=severity, unit=unit,
                 origin=Origin(), pointer=claim.where, code=str(claim.value),
                 rests_on=(*read.rests_on, *read.rests_on_by.get(attr, ())))


def _series(claim: Claim, read: Designation) -> list[Claim]:
    """Keep the code as a row of its own where its series matters."""
    if not read.series:
        return []
    return [Claim("code", read.text, severity="advisory", pointer=claim.where, code=read.series)]
