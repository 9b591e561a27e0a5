"""A thousand labels, from nothing to the last page."""

from __future__ import annotations

from spares.domain.codes import code_at
from spares.paper.labels import LockerLabel, labels_pdf
from tests.bench.conftest import seconds_of

LABELS = 1_000


def bench_labels(figure):
    labels = [LockerLabel("TGL", code_at(at, 3), f"Locker {at}", f"L{at:04}")
              for at in range(LABELS)]
    taken = seconds_of(lambda: labels_pdf(labels, size="M"), times=3)
    figure(f"{LABELS:,} labels as a PDF", taken, "s", limit=2)
