"""Services: intervals, hour readings, what is due, what falls due during a trip."""

from __future__ import annotations

from spares.domain.service.due import TaskDue, due_tasks
from spares.domain.service.meter import Meter, Reading, ReadingDoubt, reading_doubt, sift
from spares.domain.service.task import FitPoint, KitLine, Machine, Record, Task

__all__ = [
    "FitPoint", "KitLine", "Machine", "Meter", "Reading", "ReadingDoubt", "Record", "Task",
    "TaskDue", "due_tasks", "reading_doubt", "sift",
]
