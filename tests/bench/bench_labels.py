"""A thousand labels, from nothing to the last page; and ten times as many."""

from __future__ import annotations

from math import log2

from spares.domain.codes import code_at
from spares.paper.labels import LockerLabel, labels_pdf
from tests.bench.conftest import seconds_of

LABELS, MANY = 1_000, 10_000


def bench_labels(figure):
    labels = [LockerLabel("TGL", code_at(at, 3), f"Locker {at}", f"L{at:04}")
              for at in range(MANY)]
    taken = seconds_of(lambda: labels_pdf(labels[:LABELS], size="M"), times=3)
    figure(f"{LABELS:,} labels as a PDF", taken, "s", limit=2)
    many = seconds_of(lambda: labels_pdf(labels, size="M"), times=1)
    figure(f"{MANY:,} labels as a PDF", many, "s")
    figure(f"labels: growth to {MANY:,} over that of n log n",
           many / taken / (MANY * log2(MANY) / (LABELS * log2(LABELS))), "times", limit=1)
