/** Lockers named at once, one a line; each gets its number and the code for its label. */

import { useDraft } from "../load.js";
import { record } from "../outbox.js";
import { LinesField, Restored } from "../pieces/fields.js";
import { html } from "../pieces/html.js";
import { Page } from "../pieces/page.js";
import { Problem } from "../pieces/problem.js";
import { href } from "../routes.js";
import { go } from "../state.js";
import { useState } from "../vendor/hooks.js";
import { ABOARD, BEGIN, SAY } from "../words.js";

/** Give the names that were typed, one a line. */
export const namesIn = (text) => text.split("\n").map((line) => line.trim()).filter(Boolean);

/** The form, with the usual places to begin with. */
export function BeginLockersView() {
  const draft = useDraft("begin-lockers", { names: "" });
  const [state, setState] = useState({ error: null, sending: false });
  const names = namesIn(draft.values.names);
  const submit = async (event) => {
    event.preventDefault();
    if (!names.length) return;
    setState({ error: null, sending: true });
    const done = await record("begin/lockers", { names }, BEGIN.lockers_text(names.length), { form: true });
    setState({ error: done.state === "refused" ? done.error : null, sending: false });
    if (done.state === "refused") return;
    draft.clear();
    go(["aboard", "begin"]);
  };
  const addUsual = () => draft.set({ names: [...names, ...BEGIN.usual_lockers.filter((one) => !names.includes(one))].join("\n") });
  return html`<${Page} title=${BEGIN.lockers} back=${[href(["aboard", "begin"]), ABOARD.begin]}>
    <form class="stack" onSubmit=${submit} data-form="begin-lockers"><${Restored} draft=${draft} />
      <${LinesField} label=${BEGIN.lockers_field} hint=${BEGIN.lockers_hint} name="names" lines=${10}
        value=${draft.values.names} onValue=${(typed) => draft.set({ names: typed })} />
      <p class="quiet small">${BEGIN.lockers_usual}: ${BEGIN.usual_lockers.join(" · ")}</p>
      <div class="buttons"><button type="button" onClick=${addUsual}>${BEGIN.add_usual}</button></div>
      <${Problem} error=${state.error} />
      <button class="main" disabled=${state.sending || !names.length}>
        ${state.sending ? SAY.recording : BEGIN.lockers_now(names.length)}</button></form><//>`;
}
