"""Start the program, and make what it needs first where that is lacking.

`python3 -m spares ...` in a checkout is the whole program on any machine that has Python: it
makes `.venv` in the checkout once, installs the packages that pyproject.toml names, and starts
itself again inside. Where they are all there already (an installed wheel, somebody's own
environment) it goes straight on. Whoever only looks something up pays for both starts, so
what makes an environment is imported when one is to be made.
"""

from __future__ import annotations

import gc
import os
import sys

from spares import made_from

TOP = os.path.dirname(os.path.dirname(os.path.realpath(__file__)))
FOR_CHECKOUTS = ("test", "bench")       # these also want the packages of the test extra


def main() -> int:
    """Run the program on the arguments given; give its exit code, 2 when it cannot start."""
    args = sys.argv[1:]
    try:
        if not os.path.isfile(os.path.join(TOP, "pyproject.toml")):
            return run_here(args)
        extras = ["test"] if args[:1] and args[0] in FOR_CHECKOUTS else []
        fresh = made_from.is_fresh(TOP, extras)
        if fresh and made_from.is_this(TOP):
            return run_here(args)
        if fresh and sys.prefix == sys.base_prefix:     # else it is somebody's own environment
            return run_inside(made_from.python_of(TOP), args)
        return _run_where_it_can(extras, args)
    except KeyboardInterrupt:
        print(file=sys.stderr)
        return 130


def run_here(args: list[str]) -> int:
    """Go on in this very process."""
    if args[:1] and args[0] in FOR_CHECKOUTS:
        from spares import selftest
        return selftest.main(args)
    from spares.cli.main import main as command_line
    code = command_line() or 0
    gc.freeze()     # or Python would look through all there is once more, to end at once
    return code


def run_inside(python: str, args: list[str]) -> int:
    """Become *python*; on Windows, which cannot, start it and give its exit code."""
    command = [python, "-m", "spares", *args]
    if os.name != "nt":
        sys.stderr.flush()
        os.execv(python, command)
    import signal
    import subprocess

    signal.signal(signal.SIGINT, lambda *_: None)   # Ctrl-C reaches both: the inner one answers
    return subprocess.run(command).returncode


def _run_where_it_can(extras: list[str], args: list[str]) -> int:
    """Run here if every package is here, else in the environment, made ready first."""
    from spares.environment import TOP as FOLDER
    from spares.environment import CannotStart, Environment, has_all, wanted

    try:
        if has_all(wanted(extras)):
            return run_here(args)
        return run_inside(str(Environment(FOLDER).made_ready(extras)), args)
    except CannotStart as reason:
        print(reason, file=sys.stderr)
        return 2


if __name__ == "__main__":
    sys.exit(main())
