"""Photos that cannot be shown, and files among the photos that nothing names."""

from __future__ import annotations

from typing import Any

from spares.actions.context import Context
from spares.db.apart import names_of_devices
from spares.db.photo_files import photo_files
from spares.db.photo_refs import ever_named, photos_of
from spares.domain.aboard import Aboard


def photo_faults(ctx: Context, aboard: Aboard) -> list[dict[str, Any]]:
    """Report photos of this vessel that cannot be shown, and files that no vessel names."""
    files = photo_files(ctx.store)
    there = files.names()
    sound = files.sound()
    with ctx.store.looking() as reader:
        named, ever = photos_of(reader, ctx.vessel), ever_named(reader)
        names = names_of_devices(reader, ctx.vessel)
    found = []
    for one, entry in named:
        if one.sha256 not in sound:
            on = names.get(entry.dev) or entry.dev
            text = "a photo is not as it was sent; the phone that took it can send it again" \
                if one.sha256 in there else f"a photo is still on device {on}"
            found.append({"code": "photo", "thing": one.doc, "no": aboard.label(one.doc),
                          "text": text})
    found += [{"code": "photo", "thing": None, "no": None,
               "text": f"a file among the photos is named by nothing: {name}"}
              for name in there if name not in ever]
    return found
