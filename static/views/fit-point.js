/** A fit point as the question: what is fitted, which parts are recorded, measure another. */

import { showDay } from "../dates.js";
import { getOrCopy } from "../fit-copy.js";
import { useLoad } from "../load.js";
import { FitSign } from "../pieces/fit-sign.js";
import { FromCopy } from "../pieces/from-copy.js";
import { html } from "../pieces/html.js";
import { CountSign, nameOf, shortName, whereText } from "../pieces/lines.js";
import { Page } from "../pieces/page.js";
import { PartPicker } from "../pieces/picker.js";
import { Loaded } from "../pieces/problem.js";
import { href } from "../routes.js";
import { go, route } from "../state.js";
import { ABOARD, FIT, NUMBERS, PROOF, TITLE, wordFor } from "../words.js";

/** Write what sits at a fit point now. */
export function fittedText(point) {
  if (point.live === false) return FIT.retired_on(showDay(point.retired_on));
  if (!point.fitted) return FIT.fitted_none;
  const since = point.fitted.since ? FIT.since(showDay(point.fitted.since)) : null;
  return [`${FIT.fitted}: ${point.fitted.name}`, point.fitted.part, since].filter(Boolean).join(" · ");
}

/** Give the parts to look at first: what is recorded as a spare, and what sits there. */
export function candidates(point) {
  const spares = point.spares ?? [];
  const fitted = point.fitted && !spares.some((part) => nameOf(part) === point.fitted.part)
    ? [{ no: point.fitted.part, name: point.fitted.name, where: [], tags: [] }] : [];
  return [...spares, ...fitted];
}

function Question({ point }) {
  const parts = candidates(point);
  return html`<p>${fittedText(point)}</p>
    <section><h2>${FIT.candidates}</h2>
      ${!parts.length && html`<p>${FIT.no_candidates}</p>`}
      <ul class="lines">${parts.map((part) => html`<li><a class="line stack-tight"
        data-part=${nameOf(part)} href=${href(["fit", nameOf(point), "with", nameOf(part)])}>
        <span class="top head"><span class="name">${part.name}</span>
          <span class="quiet small nowrap">${nameOf(part)}</span></span>
        <span class="top"><span>${whereText(part)}</span><${CountSign} state=${part.state} /></span>
        <span class="small">${part.proof ? wordFor(PROOF, part.proof) : FIT.fitted}</span>
        <${FitSign} point=${nameOf(point)} part=${nameOf(part)} />
      </a></li>`)}</ul></section>
    ${point.tried?.length > 0 && html`<section data-piece="tried"><h2>${NUMBERS.tried}</h2><ul class="lines">
      ${point.tried.map((one) => html`<li><a class="line stack-tight"
        href=${href(["fit", nameOf(point), "with", one.part])}>
        <span class="top head"><span class="name">${one.name}</span>
          <span class="quiet small nowrap">${one.part}</span></span>
        ${one.note && html`<span class="small">${one.note}</span>`}</a></li>`)}</ul></section>`}
    <p><a class="button" href=${href(["fit", nameOf(point), "measure"])}>${FIT.measure}</a></p>
    <${PartPicker} label=${FIT.other_part} hint=${FIT.other_part_hint} name="other-part" ask=${getOrCopy}
      onPick=${(part) => go(["fit", nameOf(point), "with", nameOf(part)])} />
    <p><a class="button" href=${href(["aboard", "points", nameOf(point)])}>${ABOARD.requires}</a></p>`;
}

/** The second page of Fit. */
export function FitPointView() {
  const { params } = route.value;
  const load = useLoad(`points/${encodeURIComponent(params.point)}`, getOrCopy);
  const point = load.data;
  return html`<${Page} title=${point ? `${shortName(point.machine_name)} · ${point.name}` : TITLE.fit}
    sub=${point && nameOf(point)}
    back=${point && [href(["fit", "machine", point.machine]), shortName(point.machine_name)]}>
    <${Loaded} load=${load}>${(data) => html`<${FromCopy} answer=${data} />
      <${Question} point=${data} />`}<//>
  <//>`;
}
