/** What a part's numbers say at a fit point today, beside what is recorded of it there. */

import { judge } from "../fit-copy.js";
import { useLoad } from "../load.js";
import { VERDICT, signFor, toldFit } from "../words.js";
import { html } from "./html.js";
import { Sign } from "./shapes.js";

/** Where a list says that it fits and a measurement disagrees, both are shown. */
export function FitSign({ point, part }) {
  const { data } = useLoad(`fit ${point} ${part}`, () => judge({ point, part }));
  if (!data) return html`<span class="fit-sign small">\u00a0</span>`;    // nothing moves under the finger later
  const doubts = data.advisories.filter((one) => one.attr === "link").map((one) => one.advisory);
  return html`<span class="fit-sign small" data-verdict=${data.verdict}>
    <${Sign} sign=${signFor(VERDICT, data.verdict)} />
    ${doubts.map((text) => html`<span class="doubt">${toldFit(text)}</span>`)}</span>`;
}
