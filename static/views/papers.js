/** Labels, lists and cards to print, as PDF from the boat's computer. */

import { apiUrl } from "../api.js";
import { useLoad } from "../load.js";
import { ChoiceField } from "../pieces/fields.js";
import { html } from "../pieces/html.js";
import { nameOf } from "../pieces/lines.js";
import { Page } from "../pieces/page.js";
import { href } from "../routes.js";
import { useState } from "../vendor/hooks.js";
import { ABOARD, PAPER, PLACE } from "../words.js";

const OF_A_TRIP = ["shopping"];

function Labels() {
  const [size, setSize] = useState("M");
  const [sheet, setSheet] = useState("a4");
  return html`<section class="stack"><h2>${ABOARD.labels}</h2>
    <${ChoiceField} label=${ABOARD.label_size} value=${size} onValue=${setSize} name="size"
      options=${Object.entries(PAPER.sizes)} />
    <${ChoiceField} label=${ABOARD.label_sheet} value=${sheet} onValue=${setSheet} name="sheet"
      options=${Object.entries(PAPER.sheets)} />
    <div class="buttons">${Object.entries(PAPER.labels).map(([kind, words]) => html`<a class="button"
      href=${apiUrl(`labels/${kind}.pdf?size=${size}&sheet=${sheet}`)} target="_blank" rel="noopener">${words}</a>`)}
    </div></section>`;
}

function Lists() {
  const trips = useLoad("trips").data?.trips ?? [];
  const [trip, setTrip] = useState("");
  const chosen = trip || (trips[0] && nameOf(trips[0]));
  const address = (name) => (OF_A_TRIP.includes(name) && chosen
    ? apiUrl(`papers/${name}.pdf?trip=${encodeURIComponent(chosen)}`) : apiUrl(`papers/${name}.pdf`));
  return html`<section class="stack"><h2>${ABOARD.lists}</h2>
    ${trips.length > 1 && html`<${ChoiceField} label=${ABOARD.for_trip} value=${chosen} onValue=${setTrip} name="trip"
      options=${trips.map((one) => [nameOf(one), one.name])} />`}
    <ul class="lines">${Object.entries(PAPER.lists).map(([name, [words, help]]) => html`<li><a class="line stack-tight"
      href=${address(name)} target="_blank" rel="noopener"><span class="name">${words}</span><br />
      <span class="quiet small">${help}</span></a></li>`)}</ul></section>`;
}

/** The page of papers. */
export function PapersView() {
  return html`<${Page} title=${ABOARD.papers} back=${[href(["aboard"]), PLACE.aboard]}><${Labels} /><${Lists} /><//>`;
}
