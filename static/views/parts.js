/** Everything in the catalogue, a page at a time. */

import { isSkipper } from "../kept/kept.js";
import { useLoad } from "../load.js";
import { html } from "../pieces/html.js";
import { PartLine, nameOf } from "../pieces/lines.js";
import { Page } from "../pieces/page.js";
import { Empty, Loaded } from "../pieces/problem.js";
import { href } from "../routes.js";
import { useState } from "../vendor/hooks.js";
import { ABOARD, NEW_PART, PLACE } from "../words.js";

const PAGE_SIZE = 40;

function PartsPage({ after }) {
  const [more, setMore] = useState(false);
  const query = new URLSearchParams({ limit: PAGE_SIZE, ...(after ? { after } : {}) });
  const load = useLoad(`parts?${query}`);
  return html`<${Loaded} load=${load}>${(data) => html`
    ${!after && !data.parts.length && html`<${Empty} text=${ABOARD.no_parts} button=${ABOARD.files}
      href=${href(["aboard", "files"])} />`}
    <ul class="lines wide">${data.parts.map((part) => html`<${PartLine} key=${nameOf(part)} part=${part} />`)}</ul>
    ${data.after && !more && html`<button type="button" onClick=${() => setMore(true)}>${ABOARD.more_parts}</button>`}
    ${data.after && more && html`<${PartsPage} after=${data.after} />`}`}<//>`;
}

/** The parts, by number. */
export function PartsView() {
  return html`<${Page} title=${ABOARD.parts} back=${[href(["aboard"]), PLACE.aboard]}>
    ${isSkipper() && html`<p><a class="button" href=${href(["aboard", "parts", "new"])}>${NEW_PART.begin}</a></p>`}<${PartsPage} /><//>`;
}
