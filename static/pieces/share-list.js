/** Give the short list to somebody: by the phone's share sheet, else by copy, else as text to mark. */

import { announce } from "../state.js";
import { useState } from "../vendor/hooks.js";
import { RESTOCK } from "../words.js";
import { html } from "./html.js";
import { listText } from "./trip-lines.js";

/** Share a text by the first way that this phone has: "shared", "copied" or "by-hand". */
export async function shareText(text, device = navigator) {
  if (device.share) {
    try {
      await device.share({ text });
      return "shared";
    } catch (error) {
      if (error.name === "AbortError") return "shared";
    }
  }
  try {
    await device.clipboard.writeText(text);
    return "copied";
  } catch {
    return "by-hand";
  }
}

/** @param {{restock: object, by: "date"|"seller"}} props */
export function ShareList({ restock, by }) {
  const [how, setHow] = useState(null);
  const share = async () => {
    const done = await shareText(listText(restock, by));
    setHow(done);
    if (done === "copied") announce(RESTOCK.shared);
  };
  return html`<div class="stack-tight"><button type="button" class="main" onClick=${share}>${RESTOCK.share}</button>
    ${how === "copied" && html`<p>${RESTOCK.shared}</p>`}
    ${how === "by-hand" && html`<div class="field"><label for="list-text">${RESTOCK.share_by_hand}</label>
      <textarea id="list-text" rows="8" readonly onFocus=${(event) => event.currentTarget.select()}>${listText(restock, by)}</textarea>
    </div>`}</div>`;
}
