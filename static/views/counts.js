/** Counting: the lockers by the age of their counts, what somebody doubts first. */

import { showDay } from "../dates.js";
import { useLoad } from "../load.js";
import { html } from "../pieces/html.js";
import { Page } from "../pieces/page.js";
import { Empty, Loaded } from "../pieces/problem.js";
import { Sign } from "../pieces/shapes.js";
import { href } from "../routes.js";
import { ABOARD, COUNTING, PLACE, TAG } from "../words.js";

/** Write how old the counts of a locker are. */
export const ageText = (one) => [one.never > 0 && COUNTING.some_never(one.never), one.oldest && COUNTING.oldest(showDay(one.oldest))]
  .filter(Boolean).join(", ");

function Line({ one }) {
  return html`<li><a class="line stack-tight" data-count-locker=${one.locker} href=${href(["aboard", "counts", one.locker])}>
    <span class="top head"><span class="name">${one.locker} ${one.name}</span><span class="quiet small nowrap">${ABOARD.lines(one.lines.length)}</span></span>
    <span>${ageText(one)}</span>
    ${one.doubtful > 0 && html`<${Sign} sign=${TAG["in-doubt"]} text=${COUNTING.doubtful(one.doubtful)} />`}</a></li>`;
}

/** The list of lockers. */
export function CountsView() {
  const load = useLoad("counts");
  return html`<${Page} title=${ABOARD.counts} back=${[href(["aboard"]), PLACE.aboard]}><p class="quiet">${COUNTING.help}</p>
    <${Loaded} load=${load}>${({ lockers }) => (lockers.length ? html`<ul class="lines wide">${lockers.map((one) => html`
      <${Line} key=${one.locker} one=${one} />`)}</ul>`
    : html`<${Empty} text=${COUNTING.none} button=${ABOARD.lockers} href=${href(["aboard", "lockers"])} />`)}<//><//>`;
}
