/** What shall become of a part that fits nothing any more: keep, give or sell, with a note. */

import { isSkipper } from "../kept/kept.js";
import { useDraft } from "../load.js";
import { record } from "../outbox.js";
import { LEFT_OVER } from "../words.js";
import { NoteField, RadioField, Restored } from "./fields.js";
import { html } from "./html.js";

/** Write a choice with its note: `Sell it: boatyard, 20 EUR`. */
export function leftOverText(left_over) {
  if (!left_over) return LEFT_OVER.choices.open;
  return [LEFT_OVER.choices[left_over.choice], left_over.note].filter(Boolean).join(": ");
}

/** Put the change together; null where nothing would change. */
export function readLeftOver(part, before, values) {
  const note = values.note.trim();
  if (values.choice === (before?.choice ?? "open") && note === (before?.note ?? "")) return null;
  return { part, choice: values.choice, note };
}

/** @param {{part: string, left_over: {choice, note}|null}} props */
export function LeftOver({ part, left_over }) {
  const draft = useDraft(`left-over.${part}`, {});
  const values = { choice: left_over?.choice ?? "open", note: left_over?.note ?? "", ...draft.values };
  const body = readLeftOver(part, left_over, values);
  const save = async (event) => {
    event.preventDefault();
    const done = await record("do/left-over", body, LEFT_OVER.text(part, LEFT_OVER.choices[values.choice]));
    if (done.state !== "refused") draft.clear();
  };
  if (!isSkipper()) return html`<p class="quiet" data-left-over=${part}>${leftOverText(left_over)}</p>`;
  return html`<details class="left-over" data-left-over=${part}>
    <summary>${leftOverText(left_over)}</summary>
    <form class="stack" onSubmit=${save} data-form="left-over"><${Restored} draft=${draft} />
      <${RadioField} label=${LEFT_OVER.ask} name=${`choice-${part}`} value=${values.choice}
        onValue=${(choice) => draft.set({ choice })}
        options=${Object.entries(LEFT_OVER.choices)} />
      <${NoteField} label=${LEFT_OVER.note} hint=${LEFT_OVER.note_hint} name=${`note-${part}`} value=${values.note}
        onValue=${(note) => draft.set({ note })} />
      <button type="submit" disabled=${!body}>${LEFT_OVER.record}</button>
    </form></details>`;
}
