"""Writes what the server gives for `fit/sheets.json`, for the client's own tests.

`python tests/client/fit_data.py` writes it to standard output.
"""

from __future__ import annotations

import sys

from spares.actions.fit_data import fit_data_bytes

if __name__ == "__main__":
    sys.stdout.buffer.write(fit_data_bytes())
