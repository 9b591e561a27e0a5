"""Exit codes that scripts rely on."""

from __future__ import annotations

OK = 0              # done, fits, all aboard
ERROR = 2           # any error
SHORT = 3           # something is short, or fits only with changes
NOT_KNOWN = 4       # nobody knows yet
DOES_NOT_FIT = 5
