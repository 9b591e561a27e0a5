/** Counting one locker, blind: the number expected is shown only after one's own. */

import { showDay } from "../dates.js";
import { together, useDraft, useLoad } from "../load.js";
import { parseCount, showQuantity } from "../numbers.js";
import { record } from "../outbox.js";
import { NumberField, Restored, TextField } from "../pieces/fields.js";
import { html } from "../pieces/html.js";
import { Page } from "../pieces/page.js";
import { Empty, Loaded, Problem } from "../pieces/problem.js";
import { Sign } from "../pieces/shapes.js";
import { href } from "../routes.js";
import { route } from "../state.js";
import { useState } from "../vendor/hooks.js";
import { COUNTING, MOVE, SAY, TAG } from "../words.js";

/** Give how many of a part the records expect in a locker. */
export const expectedOf = (lines, part) => lines.filter((line) => line.no === part).reduce((sum, line) => sum + line.quantity, 0);

function Line({ line, locker, lines }) {
  const draft = useDraft(`count.${locker}.${line.part}`, { yours: "", reason: "", compared: false });
  const [state, setState] = useState({ fault: null, error: null, sending: false, said: null });
  const { yours, reason, compared } = draft.values;
  const expected = expectedOf(lines, line.part);
  const show = (count) => showQuantity(count, line.unit);
  const save = async (value) => {
    setState({ ...state, fault: null, sending: true });
    const body = { part: line.part, locker, quantity: value, ...(reason.trim() ? { note: reason.trim() } : {}) };
    const done = await record("do/counted", body, MOVE.text("counted", show(value), line.part, locker), { form: true });
    if (done.state === "refused") { setState({ ...state, sending: false, error: done.error }); return; }
    draft.clear();
    setState({ fault: null, error: null, sending: false, said: value === expected ? COUNTING.agrees(show(value)) : COUNTING.differs(show(expected), show(value)) });
  };
  const compare = (event) => {
    event.preventDefault();
    const { value, problem } = parseCount(yours, line.unit);
    if (problem) { setState({ ...state, fault: problem }); return; }
    if (value === expected || compared) { save(value); return; }
    setState({ ...state, fault: null });
    draft.set({ compared: true });
  };
  const { value } = parseCount(yours, line.unit);
  return html`<form class="panel stack" data-count=${line.part} onSubmit=${compare}><h2>${line.name}</h2>
    <p class="quiet small">${[line.part, line.maker, line.number, line.counted_on ? COUNTING.since(showDay(line.counted_on)) : COUNTING.never].filter(Boolean).join(" · ")}</p>
    ${line.doubted && html`<p><${Sign} sign=${TAG["in-doubt"]} text=${COUNTING.doubted(line.doubted)} /></p>`}
    ${state.said && html`<p class="strong" role="status">${state.said}</p>`}
    <${Restored} draft=${draft} />
    <${NumberField} label=${COUNTING.yours} unit=${line.unit === "pcs" ? "" : line.unit} name="yours" value=${yours} fault=${state.fault}
      onValue=${(typed) => draft.set({ yours: typed, compared: false })} />
    ${compared && html`<p class="strong" data-piece="differs">${COUNTING.differs(show(expected), yours.trim())}</p>
      <${TextField} label=${COUNTING.reason} hint=${COUNTING.reason_hint} name="reason" value=${reason} onValue=${(typed) => draft.set({ reason: typed })} />`}
    <${Problem} error=${state.error} />
    <div class="buttons"><button disabled=${state.sending}>${state.sending ? SAY.recording : compared ? COUNTING.record(show(value ?? 0)) : COUNTING.compare}</button>
      ${compared && html`<button type="button" onClick=${draft.clear}>${COUNTING.again}</button>`}</div></form>`;
}

/** The lines of one locker, those in doubt first. */
export function CountLockerView() {
  const { locker } = route.value.params;
  const load = useLoad("counts");
  const here = useLoad(`lockers/${encodeURIComponent(locker)}`);
  const found = load.data?.lockers.find((one) => one.locker === locker);
  return html`<${Page} title=${found ? `${locker} ${found.name}` : locker} back=${[href(["aboard", "counts"]), COUNTING.to]}>
    <p class="quiet">${COUNTING.help}</p>
    <${Loaded} load=${together(here, load)}>${([data]) => (found ? found.lines.map((line) => html`<${Line} key=${line.part} line=${line} locker=${locker} lines=${data.lines} />`)
    : html`<${Empty} text=${COUNTING.all_done} button=${COUNTING.to} href=${href(["aboard", "counts"])} />`)}<//>
  <//>`;
}
