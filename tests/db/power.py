"""What is on a disk after the power failed: only what was synced, and some of the rest.

A recording holds every act on the files in order, and marks where an answer had been given. An
image is made of the acts before a cut: those before a file's last sync are there; of those after
it nothing, some whole ones, or some sectors are. A name that was made or taken away counts with
the next sync of any file, as a folder's sync does.
"""

from __future__ import annotations

import random
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

from tests.db.disk import Act

SECTOR_BYTES = 512
DAMAGES = ("nothing", "whole writes", "sectors")


@dataclass
class Recording:
    """Acts on the files of a folder, with the marks between them."""

    acts: list[Act] = field(default_factory=list)

    def listen(self, act: Act) -> int:
        """Hear an act."""
        if not act.path.endswith("-shm"):
            self.acts.append(act)
        return 0

    def mark(self, said: str) -> None:
        """Note that from here on somebody holds an answer."""
        self.acts.append(Act("mark", said))


@dataclass
class Disk:
    """What is surely on the disk, and what was written since."""

    sure: dict[str, bytearray] = field(default_factory=dict)
    since: list[Act] = field(default_factory=list)
    marks: list[str] = field(default_factory=list)

    def do(self, act: Act) -> None:
        """Follow one act."""
        if act.what == "mark":
            self.marks.append(act.path)
        elif act.what == "sync":
            mine = [one for one in self.since if one.path == act.path or one.what == "delete"]
            self.since = [one for one in self.since if one not in mine]
            for one in mine:
                apply(self.sure, one)
        elif act.what == "delete" and act.at:       # the folder is synced with it
            self.since = [one for one in self.since if one.path != act.path]
            apply(self.sure, act)
        elif act.what != "open" or act.path not in self.sure:
            self.since.append(act)

    def image(self, damage: str, rng: random.Random) -> dict[str, bytearray]:
        """Give the files that are found after the power failed now."""
        files = {path: bytearray(data) for path, data in self.sure.items()}
        for act in self.since:
            if damage == "nothing":
                continue
            if damage == "whole writes" or act.what != "write":
                if rng.random() < 0.5:
                    apply(files, act)
                continue
            for start in range(0, len(act.data), SECTOR_BYTES):
                if rng.random() < 0.5:
                    piece = act.data[start:start + SECTOR_BYTES]
                    apply(files, Act("write", act.path, act.at + start, piece))
        return files


def apply(files: dict[str, bytearray], act: Act) -> None:
    """Do one act to files in memory."""
    if act.what == "delete":
        files.pop(act.path, None)
        return
    file = files.setdefault(act.path, bytearray())
    if act.what == "truncate":
        del file[act.at:]
        file.extend(bytes(act.at - len(file)))
    elif act.what == "write":
        file.extend(bytes(max(0, act.at - len(file))))
        file[act.at:act.at + len(act.data)] = act.data


def cuts(acts: list[Act], start: dict[str, bytes], points: int,
         rng: random.Random) -> Iterator[Disk]:
    """Give the disk at random points of a recording, in order; *start* was there before."""
    disk = Disk({path: bytearray(data) for path, data in start.items()})
    chosen = sorted(rng.randrange(len(acts) + 1) for _ in range(points))
    done = 0
    for point in chosen:
        while done < point:
            disk.do(acts[done])
            done += 1
        yield disk


def lay_out(files: dict[str, bytearray], folder: Path) -> None:
    """Write an image into an empty folder."""
    for old in folder.iterdir():
        old.unlink()
    for path, data in files.items():
        (folder / Path(path).name).write_bytes(data)
