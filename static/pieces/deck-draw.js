/** Drawing a deck: corner after corner is tapped, the last one goes back, a finished line is a change. */

import { closes, cornersOf, cornersText, straightened } from "../domain/deck_plan.js";
import { useDraft } from "../load.js";
import { record } from "../outbox.js";
import { href } from "../routes.js";
import { go } from "../state.js";
import { useState } from "../vendor/hooks.js";
import { PLAN } from "../words.js";
import { DeckPicture, lockersOn } from "./deck-picture.js";
import { html } from "./html.js";
import { Problem } from "./problem.js";
import { Sure } from "./sure.js";
import { TapField } from "./tap-field.js";

const set = (kind, fields, text, doc) => record("documents", { kind, ...(doc ? { doc } : {}), fields }, text, { form: true });

function Lines({ deck, tell }) {
  const out = async (line) => tell(await set("deck-line", { gone: true }, PLAN.line_gone(deck.name), line.doc));
  if (!deck.lines.length) return null;
  return html`<details data-piece="plan-lines"><summary>${PLAN.lines} (${deck.lines.length})</summary><ul class="lines">
    ${deck.lines.map((line, at) => html`<li class="line" key=${line.doc}>
      <span>${PLAN.line(at + 1, cornersOf(line.corners).length)}</span>
      <button type="button" aria-label=${`${PLAN.line_out}: ${PLAN.line(at + 1, cornersOf(line.corners).length)}`}
        onClick=${() => out(line)}>${PLAN.line_out}</button></li>`)}</ul></details>`;
}

/** @param {{deck: object, lockers: object[]}} props */
export function DeckDraw({ deck, lockers }) {
  const draft = useDraft(`plan.${deck.no}`, { corners: "" });
  const [error, setError] = useState(null);
  const { corners: text } = draft.values;
  const corners = text ? text.split(" ").map((one) => one.split(",").map(Number)) : [];
  const keep = (now) => draft.set({ corners: cornersText(now) });
  const tell = ({ state, error: why }) => { setError(state === "refused" ? why : null); return state !== "refused"; };
  const end = async (closed) => {
    const fields = { deck: deck.doc, corners: cornersText(corners), closed };
    if (tell(await set("deck-line", fields, PLAN.line_drawn(deck.name)))) draft.clear();
  };
  const place = (tapped) => {
    if (closes(tapped, corners)) return end(true);
    return keep([...corners, straightened(tapped, corners.at(-1))]);
  };
  const out = async () => {
    if (tell(await set("deck", { gone: true }, PLAN.deck_gone(deck.name), deck.doc))) go(["aboard", "plan"]);
  };
  return html`<div class="stack" data-form="deck-draw"><p>${PLAN.draw_help}</p><${Problem} error=${error} />
    <${TapField} onPlace=${place} draw=${(cross) => html`<${DeckPicture} deck=${deck} lockers=${lockers} corners=${corners} cross=${cross} />`} />
    <p role="status">${PLAN.corners(corners.length)}</p>
    <div class="buttons">
      <button type="button" disabled=${!corners.length} onClick=${() => keep(corners.slice(0, -1))}>${PLAN.corner_back}</button>
      <button type="button" disabled=${corners.length < 2} onClick=${() => end(false)}>${PLAN.end_open}</button>
      <button type="button" disabled=${corners.length < 3} onClick=${() => end(true)}>${PLAN.end_closed}</button></div>
    <${Lines} deck=${deck} tell=${tell} />
    <p><a class="button main" href=${href(["aboard", "plan"], { deck: deck.no })}>${PLAN.finished}</a></p>
    <p><${Sure} text=${PLAN.deck_out} asked=${PLAN.deck_out_asked(deck.lines.length, lockersOn(deck, lockers).length)} onYes=${out} /></p></div>`;
}
