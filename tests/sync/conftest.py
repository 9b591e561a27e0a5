"""What the tests of the exchange share."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.sync.bench import Bench


@pytest.fixture(params=["memory", "database"])
def bench(request: pytest.FixtureRequest, tmp_path: Path) -> Bench:
    return Bench(tmp_path if request.param == "database" else None)
