"""Spares: an offline parts and spares inventory for people who run their own vessel."""

import sys

__version__ = "0.1.0"

# Said here and plainly, since older Pythons cannot even read the files that come next.
if sys.version_info < (3, 11):  # noqa: UP036
    sys.exit("Spares needs Python 3.11 or newer; this is %d.%d." % sys.version_info[:2])  # noqa: UP031
