/** Saves a text as a file of the person's. */

const SOON_MS = 60_000;

/** Offer *text* (JSON) as a file under *name*. */
export function saveText(text, name) {
  const url = URL.createObjectURL(new Blob([text], { type: "application/json" }));
  Object.assign(document.createElement("a"), { href: url, download: name }).click();
  setTimeout(() => URL.revokeObjectURL(url), SOON_MS);
}
