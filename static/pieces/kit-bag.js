/** The bag of a job's kit: gathered beforehand, labelled, put back. */

import { keptSince } from "../kept/answers.js";
import { isCrew, isSkipper } from "../kept/kept.js";
import { showQuantity } from "../numbers.js";
import { record } from "../outbox.js";
import { paperUrl } from "../paper-url.js";
import { href } from "../routes.js";
import { useState } from "../vendor/hooks.js";
import { BAG, BAG_STATE, signFor } from "../words.js";
import { html } from "./html.js";
import { Problem } from "./problem.js";
import { Sign } from "./shapes.js";

function Label({ bag, act }) {
  if (keptSince.value) return null;
  if (!bag.code) return isSkipper() && html`<button type="button" data-act="code" onClick=${() => act("do/code-lots", {}, BAG.code_text)}>${BAG.code}</button>`;
  const query = new URLSearchParams({ only: bag.locker, size: "M" });
  return html`<a class="button" data-to="label" target="_blank" rel="noopener" href=${paperUrl(`labels/lockers.pdf?${query}`)}>${BAG.label(bag.code)}</a>`;
}

/** Say who may not gather, in a word; null for who may. A bag is begun by the skipper. */
function whyNot(bag) {
  if (!isCrew()) return BAG.look_only;
  return isSkipper() || bag.locker ? null : BAG.skipper_begins;
}

/** @param {{service: string, bag: ?object}} props the service's number, and its bag as the job card tells it */
export function KitBag({ service, bag }) {
  const [error, setError] = useState(null);
  const [before, setBefore] = useState(null);
  if (!bag) return null;
  const act = async (path, body, text) => {
    const done = await record(path, body, text, { form: true });
    setError(done.state === "refused" ? done.error : null);
    setBefore(path === "do/put-back" && done.state !== "refused" ? bag : null);
  };
  const isOpen = bag.state === "not-begun" || bag.state === "begun";
  const why = whyNot(bag);
  return html`<div class="stack" data-piece="kit-bag" data-state=${bag.state}><h3>${BAG.title}</h3>
    <p><${Sign} sign=${signFor(BAG_STATE, bag.state)} /></p>
    ${bag.lines.length ? html`<p>${BAG.inside}${" "}<a href=${href(["aboard", "lockers", bag.locker])}>${bag.lines.map((line) =>
    `${showQuantity(line.quantity)} × ${line.part} ${line.name}`).join(", ")}</a></p>` : html`<p class="quiet">${BAG.help}</p>`}
    ${before && bag !== before && bag.lines.length > 0 && html`<p role="status">${BAG.stays}</p>`}
    ${why && (isOpen || bag.lines.length > 0) && html`<p class="quiet" data-why="bag">${why}</p>`}
    <div class="buttons">
      ${!why && isOpen && html`<button type="button" data-act="pick" onClick=${() => act("do/pick", { service }, BAG.gather_text(service))}>
        ${bag.state === "begun" ? BAG.gather_rest : BAG.gather}</button>`}
      ${bag.lines.length > 0 && html`<${Label} bag=${bag} act=${act} />`}
      ${!why && bag.lines.length > 0 && html`<button type="button" data-act="put-back"
        onClick=${() => act("do/put-back", { service }, BAG.back_text(service))}>${BAG.back}</button>`}
    </div><${Problem} error=${error} /></div>`;
}
