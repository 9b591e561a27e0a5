/** Moving in from a person's own spreadsheet: columns put right, rows judged, then one yes. */

import { fileForFile, postFile } from "../api.js";
import { announce, revision, setLastChange, summary, vessel } from "../state.js";
import { useId, useRef, useState } from "../vendor/hooks.js";
import { MOVING_IN, told } from "../words.js";
import { FILE_MS, Progress, bringIn, useBringing } from "./bringing.js";
import { ANEW, ChoiceField, TickField } from "./fields.js";
import { html } from "./html.js";
import { Problem } from "./problem.js";

const KINDS = {
  csv: "text/csv", xlsx: "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
};
const MOST_LINES = 300;
const NOTHING = { file: null, looked: null, error: null, isReading: false, suggestions: false };

const kindOf = (file) => KINDS[file.name.toLowerCase().split(".").pop()] ?? null;
const said = ({ field, mark, order, currency }) => ({ field, mark, order, currency });
const marked = () => vessel.value ?? summary.value?.vessel?.mark;

function pathOf(verb, state, more = {}) {
  const query = new URLSearchParams({ name: state.file.name, suggestions: state.suggestions, ...more });
  if (state.columns) query.set("columns", JSON.stringify(state.columns.map(said)));
  return `sheet/${verb}?${query}`;
}

function Column({ column, at, fields, change }) {
  const options = [["", MOVING_IN.left_out], ...fields.map((field) => [field, MOVING_IN.fields[field]])];
  const set = (facts) => change(at, facts);
  return html`<li class="line stack-tight" data-column=${at}>
    <${ChoiceField} label=${column.heading || MOVING_IN.no_heading(at + 1)} name=${`column-${at}`} value=${column.field ?? ""}
      hint=${column.examples.length ? MOVING_IN.such_as(column.examples) : null} options=${options}
      onValue=${(field) => set({ field: field || null, mark: null, order: null, currency: null })} />
    ${column.mark && html`<${ChoiceField} label=${MOVING_IN.mark} name=${`mark-${at}`} value=${column.mark}
      options=${[[".", MOVING_IN.point], [",", MOVING_IN.comma]]} onValue=${(mark) => set({ mark })} />`}
    ${column.order && html`<${ChoiceField} label=${column.sure ? MOVING_IN.order : MOVING_IN.order_unsure} name=${`order-${at}`}
      value=${column.order} options=${Object.entries(MOVING_IN.orders)} onValue=${(order) => set({ order })} />`}
    ${column.currency && html`<p class="small">${MOVING_IN.currency(column.currency)}</p>`}</li>`;
}

function Lines({ lines, verdict, title, not_shown }) {
  const mine = lines.filter((line) => line.verdict === verdict);
  if (!mine.length) return null;
  return html`<details data-verdict-of=${verdict}><summary>${title}</summary><ul class="plain">
    ${mine.slice(0, MOST_LINES).map((line) => html`<li><span class="strong">${MOVING_IN.row(line.row, line.name)}</span>${" "}
      ${line.remarks.map((one) => MOVING_IN.remark({ ...one, reason: told(one.reason), suggested: told(one.suggested) })).join("; ")}</li>`)}</ul>
    ${(mine.length > MOST_LINES || not_shown > 0) && html`<p>${MOVING_IN.more_in_file}</p>`}</details>`;
}

function Looked({ state, isBusy, look, bring, rest }) {
  const { looked, columns } = state;         // as they were put right, also while the answer to it is on its way
  const change = (at, facts) => look({ ...state,
    columns: columns.map((one, i) => (i === at ? { ...one, ...facts } : one)) });
  return html`<div class="panel stack" data-piece="sheet-looked">
    <p class="strong" role="status">${MOVING_IN.looked(looked)}</p>
    ${looked.notes.map((note) => html`<p>${told(note)}</p>`)}
    <h3>${MOVING_IN.columns}</h3><ul class="lines">${columns.map((column, at) => html`<${Column} key=${at}
      column=${column} at=${at} fields=${looked.fields} change=${change} />`)}</ul>
    ${looked.new_lockers.length > 0 && html`<p>${MOVING_IN.new_lockers(looked.new_lockers)}</p>`}
    <${Lines} lines=${looked.lines} verdict="look-at" title=${MOVING_IN.look_at(looked.look_at)} not_shown=${looked.not_shown} />
    <${Lines} lines=${looked.lines} verdict="skip" title=${MOVING_IN.skip(looked.skip)} not_shown=${looked.not_shown} />
    ${looked.look_at > 0 && html`<${TickField} label=${MOVING_IN.take_suggested(looked.look_at)} name="suggestions"
      checked=${state.suggestions} onValue=${(suggestions) => look({ ...state, suggestions })} />`}
    ${looked.coming < looked.rows && html`<button type="button" onClick=${rest}>${MOVING_IN.rest(looked.rows - looked.coming)}</button>`}
    ${looked.coming > 0 && html`<button type="button" class="main" disabled=${isBusy || state.isReading} onClick=${bring}>
      ${MOVING_IN.bring(looked.coming)}</button>`}</div>`;
}

function save(blob) {
  const link = Object.assign(document.createElement("a"), { href: URL.createObjectURL(blob), download: MOVING_IN.rest_file });
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60000);
}

/** The whole way from a chosen file to the rows brought in. */
export function MovingIn() {
  const id = useId();
  const [state, setState] = useState(NOTHING);
  const { isBusy, forget, ...bringing } = useBringing("sheet");
  const fail = (error) => {
    if (!error.code) throw error;
    setState((now) => ({ ...now, isReading: false, error }));
  };
  const turn = useRef(0);
  const look = (next) => {
    const mine = (turn.current += 1);       // what was asked last is answered last
    forget();
    setState({ ...next, error: null, isReading: true });
    return postFile(pathOf("look", next), next.file, kindOf(next.file), marked(), FILE_MS)
      .then((looked) => mine === turn.current && setState({ ...next, looked, columns: looked.columns, error: null, isReading: false }),
        (error) => mine === turn.current && fail(error));
  };
  const choose = (file) => {
    if (kindOf(file)) look({ ...NOTHING, file });
    else setState({ ...NOTHING, error: { code: "invalid-input", detail: MOVING_IN.which, errors: [] } });
  };
  const bring = async () => {
    setState({ ...state, error: null });
    const brought = await bringIn("sheet", (progress) => postFile(pathOf("bring", state, { progress }),
      state.file, kindOf(state.file), marked(), FILE_MS));
    if (!brought) return;
    setState(NOTHING);
    if (brought.batch) setLastChange({ change: brought.batch, text: MOVING_IN.brought(brought) });
    revision.value += 1;
    announce(MOVING_IN.brought(brought));
  };
  const rest = () => fileForFile(pathOf("left-out", state), state.file, kindOf(state.file), marked()).then(save, fail);
  return html`<section class="stack" data-piece="moving-in"><h2>${MOVING_IN.title}</h2><p>${MOVING_IN.help}</p>
    <div class="field"><label for=${id}>${MOVING_IN.file}</label>
      <input id=${id} type="file" name="sheet" accept=".csv,.xlsx" disabled=${isBusy} ...${ANEW}
        onChange=${(event) => event.currentTarget.files[0] && choose(event.currentTarget.files[0])} /></div>
    ${state.isReading && html`<p class="waiting" role="status">${MOVING_IN.reading}</p>`}
    ${bringing.id && html`<${Progress} id=${bringing.id} />`}
    <${Problem} error=${state.error ?? bringing.error} />
    ${state.looked && html`<${Looked} state=${state} isBusy=${isBusy} look=${(next) => !isBusy && look(next)} bring=${bring} rest=${rest} />`}
    ${bringing.brought && html`<p class="answer" role="status">${MOVING_IN.brought(bringing.brought)}</p>`}</section>`;
}
