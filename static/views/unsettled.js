/** To settle: fields that stand apart, what was changed while off the books, what is gone but there. */

import { useLoad } from "../load.js";
import { Apart } from "../pieces/apart.js";
import { html } from "../pieces/html.js";
import { Page } from "../pieces/page.js";
import { Loaded } from "../pieces/problem.js";
import { GoneButThere, WhileGone, addressOf, calledText, countsText } from "../pieces/unsettled.js";
import { href } from "../routes.js";
import { PLACE, UNSETTLED } from "../words.js";

function ThingApart({ thing }) {
  const to = addressOf(thing);
  return html`<h3>${to ? html`<a href=${to}>${calledText(thing)}</a>` : calledText(thing)}</h3>
    <${Apart} thing=${thing} type=${thing.kind} />`;
}

const ThingGone = ({ thing }) => html`<h3>${calledText(thing)}</h3><${WhileGone} thing=${thing} />`;
const ThingThere = ({ thing, all }) => html`<h3>${calledText(thing)}</h3>
  <${GoneButThere} thing=${thing} isTold=${all.gone.some(({ doc }) => doc === thing.doc)} />`;

const SECTIONS = [["apart", ThingApart], ["gone", ThingGone], ["gone_but_there", ThingThere]];

/** The page of what is to be settled. */
export function UnsettledView() {
  const load = useLoad("unsettled");
  return html`<${Page} title=${UNSETTLED.title} sub=${UNSETTLED.help} back=${[href(["aboard"]), PLACE.aboard]}>
    <${Loaded} load=${load}>${(data) => html`
      ${!countsText(data) && html`<p class="answer">${UNSETTLED.none}</p>`}
      ${SECTIONS.filter(([list]) => data[list].length).map(([list, Thing]) => html`<section key=${list} data-list=${list}>
        <h2>${UNSETTLED.lists[list]}</h2>${data[list].map((thing) => html`<div class="stack" key=${thing.doc}><${Thing} thing=${thing} all=${data} /></div>`)}
      </section>`)}`}<//>
  <//>`;
}
