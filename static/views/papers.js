/** Papers and labels to print, as PDF from the boat's computer, since their size must be exact. */

import { useLoad } from "../load.js";
import { keptSince } from "../kept/answers.js";
import { paperUrl } from "../paper-url.js";
import { ChoiceField } from "../pieces/fields.js";
import { html } from "../pieces/html.js";
import { NeedsHer } from "../pieces/needs-her.js";
import { Page } from "../pieces/page.js";
import { LockerPicker } from "../pieces/picker.js";
import { Empty, Problem } from "../pieces/problem.js";
import { href } from "../routes.js";
import { useState } from "../vendor/hooks.js";
import { ABOARD, BEGIN, MOVE, PAPER, PLACE } from "../words.js";

const OF_A_TRIP = ["shopping", "trip", "put-away"];

/** A button that opens the labels of one kind. */
function Print({ kind, words, query }) {
  return html`<a class="button" href=${paperUrl(`labels/${kind}.pdf?${query}`)} target="_blank" rel="noopener">${words}</a>`;
}

function LabelsOf({ kinds }) {
  const [size, setSize] = useState("M");
  const [sheet, setSheet] = useState("a4");
  const query = new URLSearchParams({ size, sheet }).toString();
  return html`<p>${PAPER.help}</p>
    <${ChoiceField} label=${ABOARD.label_size} value=${size} onValue=${setSize} name="size"
      options=${Object.entries(PAPER.sizes)} />
    <${ChoiceField} label=${ABOARD.label_sheet} value=${sheet} onValue=${setSheet} name="sheet"
      options=${Object.entries(PAPER.sheets)} />
    <div class="buttons">${Object.entries(PAPER.labels).filter(([kind]) => kinds[kind]).map(([kind, words]) => html`<${Print} kind=${kind}
      words=${words} query=${query} />`)}</div>`;
}

/** Labels of what has a code; where nothing has one, how the first get theirs. */
export function Labels() {
  const { data, error, again } = useLoad("labels");    // how many there are to print, by kind
  const isEmpty = data && !Object.values(data).some(Boolean);
  return html`<section class="stack" data-piece="labels"><h2>${PAPER.labels_title}</h2>
    ${error && !keptSince.value && html`<${Problem} error=${error} again=${again} />`}
    ${isEmpty && html`<${Empty} text=${PAPER.no_labels} button=${BEGIN.lockers} href=${href(["aboard", "begin", "lockers"])} />`}
    ${data?.cannot_show && html`<p role="status">${PAPER.cannot_show([...data.cannot_show].join(" "))}</p>`}
    ${data && !isEmpty && html`<${LabelsOf} kinds=${data} />`}</section>`;
}

function Lid({ page }) {
  const [locker, setLocker] = useState("");
  const query = new URLSearchParams({ locker, ...(page && { page }) }).toString();
  return html`<li class="line stack-tight" data-paper="lid"><span class="name">${PAPER.lid}</span><br />
    <span class="quiet small">${PAPER.lid_help}</span>
    <div class="stack"><${LockerPicker} label=${MOVE.locker} value=${locker} onValue=${setLocker} name="lid-locker" />
    ${locker && html`<a class="button" href=${paperUrl(`papers/lid.pdf?${query}`)} target="_blank" rel="noopener">${PAPER.lid}: ${locker}</a>`}</div></li>`;
}

function Papers() {
  const [page, setPage] = useState("");
  const trips = useLoad("trips").data?.trips ?? [];
  const query = page ? `?page=${page}` : "";
  const names = Object.entries(PAPER.names).filter(([name]) => trips.length || !OF_A_TRIP.includes(name));
  return html`<section class="stack"><h2>${PAPER.papers}</h2>
    <${ChoiceField} label=${PAPER.page} value=${page} onValue=${setPage} name="page"
      options=${[["", PAPER.usual], ...Object.entries(PAPER.pages)]} />
    <ul class="lines wide">${names.map(([name, [words, help]]) => html`<li><a class="line stack-tight" data-paper=${name}
        href=${paperUrl(`papers/${name}.pdf${query}`)} target="_blank" rel="noopener"><span class="name">${words}</span><br />
        <span class="quiet small">${help}</span></a></li>`)}
      <${Lid} page=${page} /></ul></section>`;
}

/** The page of papers and labels. */
export function PapersView() {
  return html`<${Page} title=${ABOARD.papers} back=${[href(["aboard"]), PLACE.aboard]}>
    <${NeedsHer} /><${Papers} /><${Labels} /><//>`;
}
