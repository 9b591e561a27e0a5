/** Form fields: label, hint, the fault beside the field, unit outside the box. */

import { MONTHS, splitDay } from "../dates.js";
import { useEffect, useId, useRef } from "../vendor/hooks.js";
import { DAY, FAULT, SAY, toldFault } from "../words.js";
import { html } from "./html.js";
import { Shape } from "./shapes.js";

/** Say what is wrong with a field, for the eye and for screen readers. */
export function Fault({ id, code }) {
  if (!code) return null;
  return html`<p class="fault" id=${id}><${Shape} name="triangle" />
    <span>${FAULT[code] ?? toldFault(code)}</span></p>`;
}

/** Say above a form how many fields are wrong, and bring the cursor to the first of them. */
export function FaultSummary({ faults }) {
  const place = useRef(null);
  const count = Object.keys(faults).length;
  useEffect(() => {
    if (count) place.current.closest("form").querySelector(".wrong input, .wrong select, .wrong textarea")?.focus();
  }, [faults]);
  return html`<p class="strong" role="alert" ref=${place} hidden=${!count}>${count ? SAY.check_fields(count) : ""}</p>`;
}

/** One line of text. `unit` stands outside the box; `fault` is a code of FAULT or a sentence. */
export function TextField({ label, hint, value, onValue, unit, fault, decimal, name, ...rest }) {
  const id = useId();
  const described = [hint && `${id}h`, fault && `${id}f`].filter(Boolean).join(" ");
  return html`<div class=${`field ${fault ? "wrong" : ""}`}>
    <label for=${id}>${label}</label>
    ${hint && html`<p class="hint" id=${`${id}h`}>${hint}</p>`}
    <${Fault} id=${`${id}f`} code=${fault} />
    <div class="with-unit"><input id=${id} name=${name} type="text" value=${value}
      class=${decimal ? "number" : ""} inputmode=${decimal ? "decimal" : undefined}
      autocomplete="off" aria-invalid=${fault ? "true" : undefined}
      aria-describedby=${described || undefined}
      onInput=${(event) => onValue(event.currentTarget.value)} ...${rest} />
      ${unit && html`<span>${unit}</span>`}</div></div>`;
}

/** Several lines of text. */
export function LinesField({ label, hint, value, onValue, fault, name, lines = 5 }) {
  const id = useId();
  return html`<div class=${`field ${fault ? "wrong" : ""}`}>
    <label for=${id}>${label}</label>
    ${hint && html`<p class="hint" id=${`${id}h`}>${hint}</p>`}
    <${Fault} id=${`${id}f`} code=${fault} />
    <textarea id=${id} name=${name} rows=${lines} value=${value} aria-invalid=${fault ? "true" : undefined}
      aria-describedby=${hint ? `${id}h` : undefined} onInput=${(event) => onValue(event.currentTarget.value)}></textarea></div>`;
}

/** A note: what is worth telling takes more than a line. */
export function NoteField(props) {
  return html`<${LinesField} lines=${3} ...${props} />`;
}

/** A number with comma or point. */
export function NumberField(props) {
  return html`<${TextField} decimal=${true} ...${props} />`;
}

/** One of a few; `options` are [value, words]. */
export function ChoiceField({ label, hint, value, onValue, options, fault, name }) {
  const id = useId();
  return html`<div class=${`field ${fault ? "wrong" : ""}`}>
    <label for=${id}>${label}</label>
    ${hint && html`<p class="hint">${hint}</p>`}
    <${Fault} id=${`${id}f`} code=${fault} />
    <select id=${id} name=${name} aria-describedby=${fault ? `${id}f` : undefined}
      onChange=${(event) => onValue(event.currentTarget.value)}>
      ${options.map(([code, words]) => html`<option value=${code} selected=${code === value}>
        ${words}</option>`)}
    </select></div>`;
}

/** Yes or no. */
export function TickField({ label, checked, onValue, name }) {
  return html`<label class="tick"><input type="checkbox" checked=${checked} name=${name}
    onChange=${(event) => onValue(event.currentTarget.checked)} /><span>${label}</span></label>`;
}

/** For a file's field: the same file again, mended meanwhile, is a choice as well. */
export const ANEW = { onClick: ({ currentTarget }) => { currentTarget.value = ""; } };

/** Some of a few, as radio buttons; `options` are [value, words, help]. */
export function RadioField({ label, value, onValue, options, name }) {
  return html`<fieldset><legend>${label}</legend>
    ${options.map(([code, words, help]) => html`<label class="tick">
      <input type="radio" name=${name} value=${code} checked=${code === value}
        onChange=${() => onValue(code)} />
      <span>${words}${help && html`<br /><span class="quiet small">${help}</span>`}</span>
    </label>`)}</fieldset>`;
}

/**
 * A day in three fields, the month as a word. `value` is {day, month, year} as typed.
 * `today` (ISO) offers a button that fills it in.
 */
export function DayField({ label, hint, value, onValue, fault, today, name }) {
  const id = useId();
  const set = (facts) => onValue({ ...value, ...facts });
  return html`<fieldset class=${`field ${fault ? "wrong" : ""}`}
    aria-describedby=${fault ? `${id}f` : undefined}>
    <legend>${label}</legend>
    ${hint && html`<p class="hint">${hint}</p>`}
    <${Fault} id=${`${id}f`} code=${fault} />
    <div class="day">
      <div><label for=${`${id}d`}>${DAY.day}</label><input id=${`${id}d`} inputmode="numeric"
        name=${`${name}-day`} autocomplete="off" maxlength="2" value=${value.day}
        onInput=${(event) => set({ day: event.currentTarget.value })} /></div>
      <div><label for=${`${id}m`}>${DAY.month}</label><select id=${`${id}m`} name=${`${name}-month`}
        onChange=${(event) => set({ month: event.currentTarget.value })}>
        <option value="" selected=${!value.month}></option>
        ${MONTHS.map((word, at) => html`<option value=${String(at + 1)}
          selected=${String(at + 1) === value.month}>${word}</option>`)}</select></div>
      <div><label for=${`${id}y`}>${DAY.year}</label><input id=${`${id}y`} inputmode="numeric"
        name=${`${name}-year`} autocomplete="off" maxlength="4" value=${value.year}
        onInput=${(event) => set({ year: event.currentTarget.value })} /></div>
      ${today && html`<button type="button" onClick=${() => onValue(splitDay(today))}>
        ${DAY.today}</button>`}
    </div></fieldset>`;
}

/** The note that half-typed text was kept, with a way to start over. */
export function Restored({ draft }) {
  if (!draft.restored) return null;
  return html`<p class="quiet small">${SAY.restored}${" "}
    <button type="button" class="plain" onClick=${draft.clear}>${SAY.start_over}</button></p>`;
}
