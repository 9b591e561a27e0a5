/** Does this part fit there as it is fitted today; and the exchange, if it is done. */

import { getOrCopy, judge } from "../fit-copy.js";
import { isCrew } from "../kept/kept.js";
import { useLoad } from "../load.js";
import { showQuantity } from "../numbers.js";
import { CautionBox } from "../pieces/caution-box.js";
import { Exchange } from "../pieces/exchange.js";
import { FromCopy } from "../pieces/from-copy.js";
import { html } from "../pieces/html.js";
import { CountSign, nameOf, shortName } from "../pieces/lines.js";
import { Page } from "../pieces/page.js";
import { Loaded } from "../pieces/problem.js";
import { Advisories, Aftermath, Changes, Rows, VerdictHead } from "../pieces/verdict.js";
import { href } from "../routes.js";
import { route } from "../state.js";
import { useState } from "../vendor/hooks.js";
import { FIT, MEASURE, TITLE } from "../words.js";

function Answer({ answer, params }) {
  const [exchanging, setExchanging] = useState(false);
  const { part, count } = answer;
  return html`<${VerdictHead} answer=${answer} /><${FromCopy} answer=${answer} judged=${true} />
    ${count && html`<p><${CountSign} state=${count.state} /> <span>${FIT.usable(showQuantity(count.usable ?? 0))}</span></p>`}
    <${Changes} answer=${answer} /><${Aftermath} answer=${answer} /><${Advisories} answer=${answer} />
    <${Rows} rows=${answer.rows} />
    <${CautionBox} lines=${answer.cautions} opening=${true} />
    ${exchanging ? html`<${Exchange} answer=${answer} point=${params.point} part=${params.part}
        close=${() => setExchanging(false)} />`
      : isCrew() && html`<button type="button" class=${answer.verdict.startsWith("fits") ? "main" : ""} onClick=${() => setExchanging(true)}>${FIT.exchange}</button>`}
    <div class="buttons">
      <a class="button" href=${href(["part", nameOf(part ?? { no: params.part })])}>${TITLE.part}</a>
      <a class="button" href=${href(["fit", params.point, "measure"], { first: params.part })}>${MEASURE.compare}</a>
    </div>`;
}

/** The third page of Fit. */
export function VerdictView() {
  const { params } = route.value;
  const ask = () => judge({ point: params.point, part: params.part });
  const load = useLoad(`fit ${params.point} ${params.part}`, ask);
  const head = useLoad(`points/${encodeURIComponent(params.point)}`, getOrCopy).data;
  const part = load.data?.part;
  return html`<${Page} title=${part?.name ?? params.part}
    sub=${[nameOf(part ?? { no: params.part }), head && `${shortName(head.machine_name)} · ${head.name}`,
      params.point].filter(Boolean).join(" · ")}
    back=${[href(["fit", params.point]), head?.name ?? params.point]}>
    <${Loaded} load=${load}>${(answer) => html`<${Answer} answer=${answer} params=${params} />`}<//>
  <//>`;
}
