"""Children that see this process as it is now, and whose changes die with them."""

from __future__ import annotations

import os
import signal
import traceback
from collections.abc import Callable
from typing import NamedTuple


class Told(NamedTuple):
    """What a child said; or that its time was over; or how it broke down, which is no answer."""

    text: str = ""
    stuck: bool = False
    fault: str = ""


class ChildBroke(Exception):
    """The work of a child broke down, by itself."""


def in_child(work: Callable[[], str]) -> str:
    """Do *work* in a child; give what it says."""
    told = hear(*start(work))
    if told.stuck or told.fault:
        raise ChildBroke(told.fault or "its time was over")
    return told.text


def start(work: Callable[[], str]) -> tuple[int, int]:
    """Fork a child that says what *work* gives, or how it broke; give its id and where it says."""
    out, into = os.pipe()
    child = os.fork()
    if child:
        os.close(into)
        return child, out
    code = 1
    try:
        signal.signal(signal.SIGVTALRM, signal.SIG_DFL)
        os.close(out)
        nothing = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nothing, 1)
        os.dup2(nothing, 2)
        try:
            text, code = work(), 0
        except BaseException:
            text = traceback.format_exc()
        signal.setitimer(signal.ITIMER_VIRTUAL, 0)      # what is left is to tell it
        with os.fdopen(into, "w", encoding="utf-8") as say:
            say.write(text)
    finally:
        os._exit(code)


def hear(child: int, out: int) -> Told:
    """Hear a child out, and see how it ended."""
    with os.fdopen(out, encoding="utf-8", errors="replace") as said:
        text = said.read()
    ended = os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])
    if ended == 0:
        return Told(text)
    if ended == -signal.SIGVTALRM:
        return Told(stuck=True)
    how = f"ended by signal {-ended}" if ended < 0 else f"ended with {ended}"
    return Told(fault=text or how)
