/** A button that asks once more before what cannot be taken back; the second touch of a wet finger is no answer. */

import { isGhost } from "../ghost.js";
import { useState } from "../vendor/hooks.js";
import { html } from "./html.js";

/** @param {{text: string, asked: string, onYes: function, disabled?: boolean}} props */
export function Sure({ text, asked, onYes, disabled }) {
  const [isAsked, setAsked] = useState(false);
  const press = () => {
    const isSecond = isGhost();      // to be asked takes nothing: that may follow at once
    if (!isAsked) setAsked(true);
    else if (!isSecond) onYes();
  };
  return html`<button type="button" class=${isAsked ? "" : "plain"} disabled=${disabled} onClick=${press}>${isAsked ? asked : text}</button>`;
}
