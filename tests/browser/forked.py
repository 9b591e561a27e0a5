"""Commands of the program in processes of their own, forked from one that has it loaded.

To read the whole program is most of the work of a server's start, and a phone's story does
not ask about it: `tests/cli/test_serve.py` and `tests/structure/test_bootstrap.py` do.
"""

from __future__ import annotations

import multiprocessing
import os
import sys
from collections.abc import Mapping
from multiprocessing.process import BaseProcess
from pathlib import Path

import spares.web.app
import spares.web.chores
import spares.web.running
import spares.web.server  # noqa: F401  all of it is loaded before the fork
from spares.cli.main import main

ROOT = Path(__file__).parents[2]
HOW = "forkserver" if "forkserver" in multiprocessing.get_all_start_methods() else "spawn"


def begin(*words: str, settings: Mapping[str, str]) -> BaseProcess:
    """Begin `spares WORDS` with *settings* as its whole surroundings; gives the process."""
    how = multiprocessing.get_context(HOW)
    how.set_forkserver_preload([__name__])
    process = how.Process(target=_command, args=(words, dict(settings)), daemon=True)
    process.start()
    return process


def _command(words: tuple[str, ...], settings: dict[str, str]) -> None:
    os.environ.clear()
    os.environ.update(settings)
    os.chdir(ROOT)
    nowhere = os.open(os.devnull, os.O_WRONLY)
    for stream in (1, 2):
        os.dup2(nowhere, stream)
    sys.exit(main(words))
