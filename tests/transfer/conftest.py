"""A store to bring vessels into."""

from __future__ import annotations

import pytest

from tests.transfer.vessels import Harbour


@pytest.fixture
def harbour(tmp_path):
    harbour = Harbour(tmp_path)
    yield harbour
    harbour.store.close()
