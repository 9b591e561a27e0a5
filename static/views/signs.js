/** Help in place: what each sign means, in one sentence. */

import { html } from "../pieces/html.js";
import { Page } from "../pieces/page.js";
import { Sign } from "../pieces/shapes.js";
import { href } from "../routes.js";
import {
  ABOARD, BAG_STATE, COUNT, DRAIN, GAUGE_STATE, HELP, KNOWN, LINE, PLACE, PLACE_STATE, PROOF, SERVICE, TAG, TRAIL_STATE, VERDICT, wordFor,
} from "../words.js";

const TABLES = { COUNT, TAG, SERVICE, BAG_STATE, VERDICT, LINE, PROOF, GAUGE_STATE, KNOWN, DRAIN, TRAIL_STATE, PLACE_STATE };

/** One sign as it stands everywhere else, and its sentence. */
function Meaning({ table, code, says }) {
  const sign = table[code];
  return html`<li class="line stack-tight" data-sign=${code}><p>${sign.shape ? html`<${Sign} sign=${sign} />`
    : html`<span class="strong">${wordFor(table, code)}</span>`}</p><p>${says}</p></li>`;
}

/** All families, in the order in which they are met. */
export function SignsView() {
  return html`<${Page} title=${ABOARD.signs} back=${[href(["aboard"]), PLACE.aboard]}><p>${HELP.intro}</p>
    ${Object.entries(HELP.families).map(([family, words]) => html`<section><h2>${words}</h2><ul class="lines wide">
      ${Object.entries(HELP[family]).map(([code, says]) => html`<${Meaning} table=${TABLES[family]} code=${code} says=${says} />`)}
    </ul></section>`)}<//>`;
}
