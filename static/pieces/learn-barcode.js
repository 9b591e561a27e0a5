/** A barcode that nobody has seen yet: whose is it? From then on it finds the part. */

import { isSkipper } from "../kept/kept.js";
import { record } from "../outbox.js";
import { href } from "../routes.js";
import { go } from "../state.js";
import { useState } from "../vendor/hooks.js";
import { NEW_PART, SAY, SCAN } from "../words.js";
import { html } from "./html.js";
import { nameOf } from "./lines.js";
import { PartPicker } from "./picker.js";
import { Problem } from "./problem.js";

/** Put the change together: a barcode is one more number of its part. */
export const barcodeOf = (part, number) => ({ kind: "number", fields: { part: `part/${part.id}`, number, what: "barcode" } });

function Choose({ number }) {
  const [part, setPart] = useState(null);
  const [state, setState] = useState({ error: null, sending: false });
  const learn = async () => {
    setState({ error: null, sending: true });
    const done = await record("documents", barcodeOf(part, number), SCAN.learned(nameOf(part), number), { form: true });
    setState({ error: done.state === "refused" ? done.error : null, sending: false });
    if (done.state !== "refused") go(["part", nameOf(part)]);
  };
  if (!part) return html`<${PartPicker} label=${SCAN.whose} name="barcode-part" onPick=${setPart} />`;
  return html`<div class="stack" data-form="barcode">
    <p class="strong">${[nameOf(part), part.name, part.maker, part.number].filter(Boolean).join(" · ")}</p>
    <${Problem} error=${state.error} />
    <div class="buttons"><button type="button" disabled=${state.sending} onClick=${learn}>
        ${state.sending ? SAY.recording : SCAN.learn(nameOf(part))}</button>
      <button type="button" onClick=${() => setPart(null)}>${SAY.cancel}</button></div></div>`;
}

/** @param {{number: string}} props the number under the barcode, in its one form */
export function LearnBarcode({ number }) {
  return html`<section class="stack" data-piece="learn-barcode"><p class="strong" role="status">${SCAN.unknown_code(number)}</p>
    ${isSkipper() && html`<${Choose} number=${number} />
      <p><a class="button" href=${href(["aboard", "parts", "new"])}>${NEW_PART.begin}</a></p>`}</section>`;
}
