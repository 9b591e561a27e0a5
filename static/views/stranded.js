/** What lies aboard and fits nothing as fitted today, and what nobody wrote down. */

import { showDay } from "../dates.js";
import { useLoad } from "../load.js";
import { showNumber } from "../numbers.js";
import { html } from "../pieces/html.js";
import { LeftOver } from "../pieces/left-over.js";
import { whereText } from "../pieces/lines.js";
import { Page } from "../pieces/page.js";
import { Loaded } from "../pieces/problem.js";
import { Sign } from "../pieces/shapes.js";
import { href } from "../routes.js";
import { route } from "../state.js";
import { ABOARD, LEFT_OVER, PLACE, TAG } from "../words.js";

function belongsText(line) {
  const of = line.of ? `${line.of.part} ${line.of.name}` : null;
  return [line.belongs_to && ABOARD.belongs_to(line.belongs_to, of),
    line.taken_out && ABOARD.taken_out(showDay(line.taken_out))].filter(Boolean).join(", ");
}

/** The stranded, each with what it belonged to. */
export function StrandedView() {
  const load = useLoad("stranded");
  const { after } = route.value.query;
  return html`<${Page} title=${ABOARD.stranded} sub=${ABOARD.stranded_help} back=${[href(["aboard"]), PLACE.aboard]}>
    ${after && html`<p class="strong" role="status">${LEFT_OVER.after}: <a class="nowrap" href=${href(["aboard", "points", after])}>${after}</a></p>`}
    <${Loaded} load=${load}>${(data) => html`
      ${!data.stranded.length && html`<p class="answer">${ABOARD.nothing_stranded}</p>`}
      <ul class="lines wide">${data.stranded.map((line) => html`<li key=${line.part}><a class="line stack-tight" data-part=${line.part}
        href=${href(["part", line.part])}>
        <span class="top head"><span class="name">${line.name} ×${showNumber(line.quantity)}</span>
          <span class="quiet small nowrap">${line.part}</span></span>
        <span class="top"><${Sign} sign=${TAG.stranded} /><span>${whereText(line)}</span></span>
        <span class="quiet small">${belongsText(line)}</span></a>
        <${LeftOver} part=${line.part} left_over=${line.left_over} /></li>`)}</ul>
      ${data.fits_not_recorded?.length > 0 && html`<section><h2>${TAG["fits-not-recorded"].word} (${data.fits_not_recorded.length})</h2>
        <ul class="lines wide">${data.fits_not_recorded.map((line) => html`<li><a class="line" href=${href(["part", line.part])}>
          <span class="top head"><span class="name">${line.name}</span><span class="quiet small nowrap">${line.part}</span></span>
        </a></li>`)}</ul></section>`}`}<//>
  <//>`;
}
