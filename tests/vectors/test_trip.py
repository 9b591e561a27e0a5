"""Words about a trip that the phone's own code writes too."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from spares.domain.trip.words import of_hundred

CASES = json.loads((Path(__file__).parent / "trip/of_hundred.json").read_text())["cases"]


@pytest.mark.parametrize(("share", "said"), CASES)
def test_a_protection_is_said_in_trips_of_a_hundred(share: float, said: str) -> None:
    assert of_hundred(share) == said
