"""Children that see this process as it is now, and whose changes die with them."""

from __future__ import annotations

import os
import signal
from collections.abc import Callable


def in_child(work: Callable[[], str]) -> str:
    """Do *work* in a child; give what it says."""
    child = start(work)
    with os.fdopen(child[1]) as said:
        text = said.read()
    os.waitpid(child[0], 0)
    return text


def start(work: Callable[[], str]) -> tuple[int, int]:
    """Fork a child that says what *work* gives; give its id and where it says it."""
    out, into = os.pipe()
    child = os.fork()
    if child:
        os.close(into)
        return child, out
    try:
        signal.signal(signal.SIGVTALRM, signal.SIG_DFL)
        os.close(out)
        nothing = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nothing, 1)
        os.dup2(nothing, 2)
        with os.fdopen(into, "w") as say:
            say.write(work())
    finally:
        os._exit(0)
