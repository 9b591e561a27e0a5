/** Find: type a code or words; what is found already shows locker and count. */

import { retailNumber } from "../domain/barcodes.js";
import { isCode, looksLikeCode, parseLabel } from "../domain/codes.js";
import { isSkipper } from "../kept/kept.js";
import { useLoad, useSettled } from "../load.js";
import { AnswerCard } from "../pieces/answer-card.js";
import { Hit, nothingSaid } from "../pieces/hits.js";
import { html } from "../pieces/html.js";
import { Lines } from "../pieces/in-turn.js";
import { PartLine, nameOf } from "../pieces/lines.js";
import { Page } from "../pieces/page.js";
import { Empty, Loaded } from "../pieces/problem.js";
import { searchText } from "../pieces/search-dock.js";
import { lastWanted } from "../pieces/wanted.js";
import { href } from "../routes.js";
import { useEffect, useMemo, useState } from "../vendor/hooks.js";
import { FIND, NEW_PART, PLACE, SCAN } from "../words.js";

const TYPING_WAIT_MS = 160;

function Wanted({ one }) {
  const { data } = useLoad(`parts/${encodeURIComponent(one.no)}`);
  return html`<${PartLine} part=${data ?? one} />`;
}

function LastWanted() {
  const wanted = lastWanted();
  if (!wanted.length) {
    return html`<${Empty} text=${FIND.nothing_yet} button=${FIND.show_lockers}
      href=${href(["aboard", "lockers"])} />`;
  }
  return html`<section><h2>${FIND.last_wanted}</h2>
    <ul class="lines wanted">${wanted.map((one) => html`<${Wanted} key=${one.no} one=${one} />`)}</ul>
  </section>`;
}

/** A barcode that nobody has seen yet. What to do about it is seldom wanted, and not among the first files. */
function Unknown({ number }) {
  const [piece, setPiece] = useState(null);
  useEffect(() => {
    import("../pieces/learn-barcode.js").then(({ LearnBarcode }) => setPiece(() => LearnBarcode), () => {});
  }, []);
  if (piece) return html`<${piece} number=${number} />`;
  return html`<p class="strong" role="status">${SCAN.unknown_code(number)}</p>`;
}

function Nothing({ text }) {
  const number = retailNumber(text);
  if (number) return html`<${Unknown} number=${number} />`;
  const isLabel = looksLikeCode(text) || parseLabel(text) !== null;
  return html`<p class="strong" role="status">${nothingSaid(text)}</p>
    ${isSkipper() && !isLabel && html`<p><a class="button"
      href=${href(["aboard", "parts", "new"], { name: text })}>${NEW_PART.begin_named(text)}</a></p>`}`;
}

function Results({ answer, text }) {
  const { hits } = answer;
  if (!hits.length) return html`<${Nothing} text=${text} />`;
  const only = hits.length === 1 && hits[0].type === "part" ? hits[0] : null;
  return html`<section class="stack">
    <p class="visually-hidden" role="status">${FIND.results(hits.length)}</p>
    ${answer.by === "near" && html`<p class="strong">${FIND.near}</p>`}
    ${only ? html`<h2>${only.name}</h2><${AnswerCard} key=${nameOf(only)} part=${only} />`
      : html`<${Lines} key=${text} of=${hits} line=${(hit) => html`<${Hit} key=${`${hit.type}${hit.id ?? hit.no}`}
          hit=${hit} alone=${hits.length === 1} />`} />`}
  </section>`;
}

/** A code fires as soon as its check character agrees; words wait until the typing rests. */
export function FindView() {
  const text = searchText().trim();
  const at_once = text === "" || isCode(text) || parseLabel(text) !== null;
  const settled = useSettled(text, TYPING_WAIT_MS, at_once);
  // What stands there is not drawn again with every key: only another answer changes it.
  const load = useLoad(settled ? `find?q=${encodeURIComponent(settled)}` : null);
  const shown = useMemo(() => html`<${Page} title=${PLACE.find} quiet=${true}>
    ${settled ? html`<${Loaded} load=${load}>
        ${(answer) => html`<${Results} answer=${answer} text=${settled} />`}<//>`
      : html`<${LastWanted} />`}
  <//>`, [settled, load.data, load.error, load.slow]);
  return shown;
}
