"""The frame of all tests: nothing of the user's is touched, and laws run quick by default."""

from __future__ import annotations

import os
import shutil
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings

LONG = os.environ.get("SPARES_LONG") == "1"

settings.register_profile("quick", max_examples=60, deadline=None, print_blob=True,
                          suppress_health_check=[HealthCheck.too_slow])
settings.register_profile("long", settings.get_profile("quick"), max_examples=1500)
settings.load_profile("long" if LONG else "quick")


def chromium() -> str | None:
    """Find the Chromium that browser tests drive."""
    names = ("chromium", "chromium-browser", "google-chrome")
    return next(filter(None, map(shutil.which, names)), None)


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    long = pytest.mark.skip(reason="long: runs with `python3 -m spares test --long`")
    browser = pytest.mark.skip(reason="no Chromium on the PATH")
    for item in items:
        if not LONG and item.get_closest_marker("long"):
            item.add_marker(long)
        if item.get_closest_marker("browser") and not chromium():
            item.add_marker(browser)


@pytest.fixture(autouse=True)
def own_surroundings(tmp_path_factory: pytest.TempPathFactory,
                     monkeypatch: pytest.MonkeyPatch) -> Path:
    """Take away every `SPARES_*` setting and name a fresh store; gives its path."""
    for name in [name for name in os.environ if name.startswith("SPARES_")]:
        monkeypatch.delenv(name)
    store = tmp_path_factory.mktemp("store") / "spares.sqlite"
    monkeypatch.setenv("SPARES_STORE", str(store))
    return store
