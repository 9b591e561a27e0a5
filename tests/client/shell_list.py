"""The list of the client's files that a phone keeps: each with its digest, and a hash over all.

`python3 tests/client/shell_list.py --write` writes it anew after a file below static/ changed.
"""

from __future__ import annotations

import base64
import hashlib
import json
import sys
from pathlib import Path

STATIC = Path(__file__).resolve().parents[2] / "static"
LIST = STATIC / "shell.js"
NOT_KEPT = {"sw.js", "shell.js", "vendor/vendor.json"}


def kept_files(folder: Path = STATIC) -> list[str]:
    """Give the addresses of all files that the page needs, `/` for the page itself."""
    names = sorted(path.relative_to(folder).as_posix() for path in folder.rglob("*")
                   if path.is_file())
    return ["/" if name == "index.html" else f"/{name}" for name in names
            if name not in NOT_KEPT and not name.startswith("vendor/LICENSE")]


def digest_of(name: str, folder: Path = STATIC) -> str:
    """Give the digest of a file as Subresource Integrity (W3C) writes it."""
    body = (folder / ("index.html" if name == "/" else name[1:])).read_bytes()
    return "sha256-" + base64.b64encode(hashlib.sha256(body).digest()).decode()


def version_of(files: dict[str, str], folder: Path = STATIC) -> str:
    """Give a hash over names and bytes, so that any change is a new version."""
    total = hashlib.sha256()
    for name, digest in files.items():
        total.update(f"{name} {digest}\n".encode())
    total.update((folder / "sw.js").read_bytes())
    return total.hexdigest()[:16]


def shell_text(folder: Path = STATIC) -> str:
    """Give the text of shell.js."""
    files = {name: digest_of(name, folder) for name in kept_files(folder)}
    shell = {"version": version_of(files, folder), "files": files}
    return ("// Written by tests/client/shell_list.py --write; a test holds it to the folder.\n"
            f"self.SHELL = {json.dumps(shell, indent=2)};\n")


if __name__ == "__main__":
    if "--write" in sys.argv:
        LIST.write_text(shell_text(), encoding="utf-8")
    else:
        print(shell_text(), end="")
