/** Which vessel everything on this phone is about. */

import { getJson } from "../api.js";
import { useLoad } from "../load.js";
import { html } from "../pieces/html.js";
import { Page } from "../pieces/page.js";
import { Loaded } from "../pieces/problem.js";
import { href } from "../routes.js";
import { setVessel, summary } from "../state.js";
import { ABOARD, ACROSS, PLACE, TITLE } from "../words.js";

/** The vessels of the store. */
export function VesselsView() {
  const load = useLoad("vessels", getJson);
  const mark = summary.value?.vessel?.mark;
  return html`<${Page} title=${ABOARD.vessels} back=${[href(["aboard"]), PLACE.aboard]}>
    <${Loaded} load=${load}>${({ vessels }) => html`<ul class="lines">${vessels.map((vessel) => html`<li>
      <button type="button" class="line stack-tight" data-vessel=${vessel.mark} aria-pressed=${vessel.mark === mark}
        onClick=${() => setVessel(vessel.mark)}>
        <span class="top head"><span class="name">${vessel.name} (${vessel.mark})</span>
          ${vessel.mark === mark && html`<span class="strong">${ABOARD.chosen}</span>`}</span>
        <span class="quiet small">${[vessel.about, vessel.base].filter(Boolean).join(" · ")}</span></button></li>`)}</ul>
      ${vessels.length > 1 && html`<p><a class="button" data-page="across" href=${href(["aboard", "across"])}>${TITLE.across}</a><br />
        <span class="quiet small">${ACROSS.help}</span></p>`}`}<//>
  <//>`;
}
