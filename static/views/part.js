/** One part: its answer card, where else it lies, what it fits and why that is believed. */

import { isSkipper } from "../kept/kept.js";
import { useLoad } from "../load.js";
import { AnswerCard, chooseHere } from "../pieces/answer-card.js";
import { Apart } from "../pieces/apart.js";
import { FitSign } from "../pieces/fit-sign.js";
import { html } from "../pieces/html.js";
import { InTurn } from "../pieces/in-turn.js";
import { LeftOver } from "../pieces/left-over.js";
import { MoreNumbers } from "../pieces/more-numbers.js";
import { byLocker, nameOf, quantityText } from "../pieces/lines.js";
import { Dropped, Numbers } from "../pieces/numbers.js";
import { Page } from "../pieces/page.js";
import { Photos } from "../pieces/photos.js";
import { ThingLoaded } from "../pieces/unsettled.js";
import { rememberWanted } from "../pieces/wanted.js";
import { showMoney, showNumber } from "../numbers.js";
import { href } from "../routes.js";
import { route } from "../state.js";
import { useEffect } from "../vendor/hooks.js";
import { ABOARD, CARD, PLACE, PROOF, SAY, TITLE, wordFor } from "../words.js";

function OtherPlaces({ part, at }) {
  const places = byLocker(part.where);
  const here = chooseHere(places, at);
  const others = places.filter((place) => place !== here);
  if (!others.length) return null;
  return html`<section><h2>${CARD.other_places}</h2><ul class="lines">
    ${others.map((place) => html`<li><a class="line" href=${href(["part", nameOf(part)], { at: place.locker })}>
      <span class="top head"><span class="name">${place.lent_to ? place.name : `${place.locker} ${place.name}`}</span>
      <span>${quantityText(place, part.unit)}</span></span></a></li>`)}</ul></section>`;
}

function Fits({ part }) {
  const fits = (part.fits ?? []).filter((fit) => fit.point);
  if (!fits.length) return null;
  return html`<section><h2>${ABOARD.fits}</h2><ul class="lines">${fits.map((fit) => html`<li>
    <a class="line stack-tight" href=${href(["fit", fit.point, "with", nameOf(part)])}>
      <span class="top head"><span class="name">${fit.name}</span>
        <span class="quiet small nowrap">${fit.point}</span></span>
      <span class="small">${[fit.machine_name, fit.role === "goes-with" && CARD.goes_with,
        wordFor(PROOF, fit.proof), fit.live === false && ABOARD.retired_point, fit.note]
        .filter(Boolean).join(" · ")}</span>
      ${fit.live !== false && fit.role === "takes" && html`<${FitSign} point=${fit.point} part=${nameOf(part)} />`}
    </a></li>`)}</ul></section>`;
}

function Facts({ part }) {
  const rows = [
    [ABOARD.maker, part.maker], [ABOARD.number, part.number],
    [ABOARD.needed, part.need !== null && part.need !== undefined ? showNumber(part.need) : null],
    [ABOARD.price, showMoney(part.price)],
    [ABOARD.lead, part.lead_days !== null && part.lead_days !== undefined
      ? ABOARD.lead_days(part.lead_days) : null],
  ];
  return html`<dl class="facts">${rows.map(([word, text]) => html`<dt>${word}</dt>
    <dd>${text || SAY.not_known}</dd>`)}</dl>`;
}

/** The part's page; opening it puts the part among the last wanted. */
export function PartView() {
  const { params, query } = route.value;
  const load = useLoad(`parts/${encodeURIComponent(params.part)}`);
  const part = load.data;
  useEffect(() => {
    if (part) rememberWanted(part);
  }, [part && nameOf(part)]);
  return html`<${Page} title=${part?.name ?? TITLE.part} back=${[href(["find"]), PLACE.find]}
    sub=${part && [nameOf(part), part.maker, part.number].filter(Boolean).join(" · ")}>
    <${ThingLoaded} load=${load} kind="part" name=${params.part}>${(data) => html`<${InTurn}>
      <${AnswerCard} key=${`${nameOf(data)} ${query.at}`} part=${data} at=${query.at} />
      <${Apart} thing=${data} /><${Dropped} part=${data} />
      ${(data.left_over || data.tags?.includes("stranded")) && html`<${LeftOver} part=${nameOf(data)} left_over=${data.left_over} />`}
      <${OtherPlaces} part=${data} at=${query.at} />
      <${Photos} of=${`part/${data.id}`} name=${data.name ?? nameOf(data)} />
      <${Numbers} part=${data} />
      ${isSkipper() && html`<${MoreNumbers} part=${data} />`}
      <${Fits} part=${data} /><${Facts} part=${data} /><//>`}<//>
  <//>`;
}
