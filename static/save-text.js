/** Saves a file of the person's, or gives it on by the phone's share sheet. */

const SOON_MS = 60_000;

function save(blob, name) {
  const url = URL.createObjectURL(blob);
  Object.assign(document.createElement("a"), { href: url, download: name }).click();
  setTimeout(() => URL.revokeObjectURL(url), SOON_MS);
}

/** Offer *text* (JSON) as a file under *name*. */
export const saveText = (text, name) => save(new Blob([text], { type: "application/json" }), name);

/** Give a file on where this phone's share sheet takes files, else save it: "shared" or "saved". */
export async function shareFile(blob, name, device = navigator, keep = save) {
  const files = [new File([blob], name, { type: blob.type })];
  if (device.canShare?.({ files })) {
    try {
      await device.share({ files });
      return "shared";
    } catch (error) {
      if (error.name === "AbortError") return "shared";
    }
  }
  keep(blob, name);
  return "saved";
}
