"""What the tests of the exchange share."""

from __future__ import annotations

import pytest

from tests.sync.bench import Bench


@pytest.fixture
def bench() -> Bench:
    return Bench()
