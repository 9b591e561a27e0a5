/** Putting lockers on a deck: the next one that is on no plan is offered, each tap puts one. */

import { record } from "../outbox.js";
import { href } from "../routes.js";
import { useState } from "../vendor/hooks.js";
import { PLAN } from "../words.js";
import { DeckPicture } from "./deck-picture.js";
import { ChoiceField } from "./fields.js";
import { html } from "./html.js";
import { Problem } from "./problem.js";
import { TapField } from "./tap-field.js";

const isOff = ({ place }) => !place || place.of;

/** @param {{deck: object, lockers: object[], asked?: string}} props `asked` is the number of the first one */
export function DeckPlace({ deck, lockers, asked }) {
  const [chosen, setChosen] = useState(asked ?? "");
  const [error, setError] = useState(null);
  const ones = lockers.filter((one) => one.aboard);
  const next = ones.find((one) => one.locker === chosen) ?? ones.find(isOff) ?? null;
  const send = async (body, text) => {
    const done = await record("documents", { kind: "deck-place", ...body }, text, { form: true });
    setError(done.state === "refused" ? done.error : null);
  };
  const put = ([x, y]) => {
    if (!next) return;
    send({ fields: { locker: next.doc, deck: deck.doc, x, y } }, PLAN.put(next.locker, deck.name));
    setChosen(ones.find((one) => isOff(one) && one !== next)?.locker ?? "");
  };
  const off = () => send({ doc: next.place.doc, fields: { gone: true } }, PLAN.put_off(next.locker));
  const label = (one) => `${one.locker} ${one.name ?? ""}${isOff(one) ? "" : " ✓"}`;
  const inOrder = [...ones.filter(isOff), ...ones.filter((one) => !isOff(one))];
  const options = [...(next ? [] : [["", "–"]]), ...inOrder.map((one) => [one.locker, label(one)])];
  return html`<div class="stack" data-form="deck-place">
    <${ChoiceField} label=${PLAN.which} name="plan-locker" value=${next?.locker ?? ""} onValue=${setChosen} options=${options} />
    <p class="strong" role="status">${next ? PLAN.put_help(`${next.locker} ${next.name ?? ""}`.trim()) : PLAN.all_placed}</p>
    <${Problem} error=${error} />
    <${TapField} onPlace=${put} draw=${(cross) => html`<${DeckPicture} deck=${deck} lockers=${lockers} meant=${next} cross=${cross} />`} />
    ${next && !isOff(next) && html`<p><button type="button" onClick=${off}>${PLAN.off}</button></p>`}
    <p><a class="button main" href=${href(["aboard", "plan"], { deck: deck.no })}>${PLAN.finished}</a></p></div>`;
}
