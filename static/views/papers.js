/** Labels to print, as PDF from the boat's computer, since their size must be exact. */

import { apiUrl } from "../api.js";
import { useLoad } from "../load.js";
import { ChoiceField } from "../pieces/fields.js";
import { html } from "../pieces/html.js";
import { Page } from "../pieces/page.js";
import { href } from "../routes.js";
import { useState } from "../vendor/hooks.js";
import { ABOARD, PAPER, PLACE } from "../words.js";

const isThere = async (path) => ({ there: (await fetch(apiUrl(path), { method: "HEAD" })).ok });

/** Tell for which kinds of label there is something to print. */
function useKinds() {
  const lockers = useLoad("lockers").data?.lockers ?? [];
  const machines = useLoad("machines").data?.machines ?? [];
  const bags = useLoad("labels/bags.pdf?size=S", isThere).data;
  return { lockers: lockers.some((one) => one.code), machines: machines.some((one) => one.code),
    bags: bags?.there ?? false };
}

/** A button that opens the labels of one kind. */
function Print({ kind, words, query }) {
  return html`<a class="button" href=${apiUrl(`labels/${kind}.pdf?${query}`)} target="_blank" rel="noopener">${words}</a>`;
}

/** The page of labels. */
export function PapersView() {
  const [size, setSize] = useState("M");
  const [sheet, setSheet] = useState("a4");
  const kinds = useKinds();
  const query = new URLSearchParams({ size, sheet }).toString();
  return html`<${Page} title=${ABOARD.papers} back=${[href(["aboard"]), PLACE.aboard]}>
    <p>${PAPER.help}</p>
    <${ChoiceField} label=${ABOARD.label_size} value=${size} onValue=${setSize} name="size"
      options=${Object.entries(PAPER.sizes)} />
    <${ChoiceField} label=${ABOARD.label_sheet} value=${sheet} onValue=${setSheet} name="sheet"
      options=${Object.entries(PAPER.sheets)} />
    <div class="buttons">${Object.entries(PAPER.labels).filter(([kind]) => kinds[kind]).map(([kind, words]) => html`<${Print} kind=${kind}
      words=${words} query=${query} />`)}</div>
  <//>`;
}
