"""What a judge may look at: the place, every claim asked or offered, and derived speeds."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from typing import Any

from spares.domain.fit import reading
from spares.domain.fit.reading import Amount
from spares.domain.fit.sheets import KindSheet
from spares.domain.fit.values import Claim, Place
from spares.errors import InvalidInput, UnknownUnit
from spares.units import exact

_DRIVES = {"pulley": "belt", "belt": "belt", "gear": "gear", "tang": "tang", "spline": "gear",
           "electric": "electric"}


@dataclass(frozen=True)
class Context:
    """The whole request, sorted by attribute, designations expanded."""

    sheet: KindSheet
    place: Place
    asked: Mapping[str, tuple[Claim, ...]]
    offered: Mapping[str, tuple[Claim, ...]]
    today: date | None = None

    def asked_claim(self, attr: str) -> Claim | None:
        """Give the one thing asked of *attr*, or None."""
        return self._usable(self.asked.get(attr, ()))

    def offered_claim(self, attr: str) -> Claim | None:
        """Give the one thing offered for *attr*, or None."""
        return self._usable(self.offered.get(attr, ()))

    def offers_code(self, spelt: str) -> bool:
        """Tell whether the part bears the designation that reads back to *spelt*."""
        return any(c.spelt == spelt for claims in self.offered.values() for c in claims)

    def asked_amount(self, attr: str) -> Amount | None:
        """Give the amount asked of *attr*, or None where there is none."""
        return self._amount(attr, self.asked_claim(attr))

    def offered_amount(self, attr: str) -> Amount | None:
        """Give the amount offered for *attr*, or None where there is none."""
        return self._amount(attr, self.offered_claim(attr))

    def offered_word(self, attr: str) -> str | None:
        """Give the word offered for *attr* as words are compared, or None."""
        claim = self.offered_claim(attr)
        return None if claim is None or isinstance(claim.value, list | dict) else reading.word(
            claim.value)

    def asked_words(self, attr: str) -> tuple[str, ...]:
        """Give the words asked of *attr*."""
        claim = self.asked_claim(attr)
        if claim is None or isinstance(claim.value, dict):
            return ()
        values = claim.value if isinstance(claim.value, list) else [claim.value]
        return tuple(reading.word(v) for v in values)

    @property
    def drive(self) -> str | None:
        """Give how the pump is driven: as the place says, else by the drive asked or offered."""
        if self.place.driven_by:
            return self.place.driven_by
        words = [*self.asked_words("drive"), self.offered_word("drive") or ""]
        return next((_DRIVES[w] for w in map(self._usual("drive"), words) if w in _DRIVES), None)

    @property
    def pump_speed_rpm(self) -> Fraction | None:
        """Give the speed of the driven shaft [1/min], where the place tells enough."""
        place = self.place
        if None in (place.engine_speed_rpm, place.drive_pulley_mm, place.driven_pulley_mm):
            return None
        driven = place_number(place, "driven_pulley_mm")
        if driven <= 0:
            raise InvalidInput.at("#/place/driven_pulley_mm", "must be above 0")
        slip = Fraction(0) if place.slip is None else place_number(place, "slip")
        return (place_number(place, "engine_speed_rpm") * place_number(place, "drive_pulley_mm")
                / driven * (1 - slip))

    def holds(self, when: Mapping[str, Any]) -> bool:
        """Tell whether a condition of a sheet is recorded as true; what is not known is not."""
        for subject, wanted in when.items():
            if subject == "drive":
                if self.drive not in (wanted if isinstance(wanted, list) else [wanted]):
                    return False
                continue
            for name, value in wanted.items():
                if not _agrees(self._found(subject, name), value):
                    return False
        return True

    def _found(self, subject: str, name: str) -> tuple[Any, ...]:
        if subject == "place":
            value = getattr(self.place, name)
            return () if value is None else (value,)
        claim = self.asked_claim(name) if subject == "asked" else self.offered_claim(name)
        said = None if claim is None else reading.part(claim.value, "value")
        said = said if isinstance(said, list) else [said]
        return tuple(self._usual(name)(one) for one in said
                     if one is not None and not reading.is_absent(one))

    def _usual(self, name: str) -> Callable[[Any], Any]:
        """Give what puts other names of the sheet right."""
        attribute = self.sheet.attributes.get(name)
        aliases = attribute.aliases if attribute else {}
        return lambda value: aliases.get(reading.word(value), value)

    def _amount(self, attr: str, claim: Claim | None) -> Amount | None:
        attribute = self.sheet.attributes.get(attr)
        if claim is None or attribute is None or isinstance(claim.value, list):
            return None
        value = reading.part(claim.value, "value")
        if value is None or reading.is_absent(value):
            return None
        return reading.amount(attribute, claim)

    @staticmethod
    def _usable(claims: tuple[Claim, ...]) -> Claim | None:
        if not claims or claims[0].value is None or claims[0].assumed:
            return None
        if any(claim.value != claims[0].value for claim in claims):
            return None     # two origins side by side that do not say the same
        return claims[0]


def place_number(place: Place, name: str) -> Fraction:
    """Read a number of the place exactly.

    Args:
        place: The place [-].
        name: Field of the place; its unit stands in the name [-].

    Returns:
        The number [unit in the name].

    Raises:
        InvalidInput: it is no number, or negative.

    Source:
        Counting rule of this project; no standard applies.
    """
    try:
        number = exact(getattr(place, name))
    except UnknownUnit as err:
        raise InvalidInput.at(f"#/place/{name}", err.detail) from err
    if number < 0 and name != "temperature_c" or name == "slip" and number >= 1:
        raise InvalidInput.at(f"#/place/{name}", "is outside what can be")
    return number


def _agrees(found: tuple[Any, ...], wanted: Any) -> bool:
    if wanted == "*":
        return bool(found)
    options = wanted if isinstance(wanted, list) else [wanted]
    return any(reading.flag(have) is option if isinstance(option, bool)
               else reading.word(have) == reading.word(option)
               for have in found for option in options)
