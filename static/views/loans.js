/** Loans: what other vessels have of hers, what she has of theirs, and the slips that go between. */

import { getJson } from "../api.js";
import { showDay } from "../dates.js";
import { isCrew, keeper, keepsHere } from "../kept/kept.js";
import { slipOf } from "../kept/loans.js";
import { useDraft, useLoad } from "../load.js";
import { parseCount, showNumber } from "../numbers.js";
import { record } from "../outbox.js";
import { NumberField, Restored } from "../pieces/fields.js";
import { html } from "../pieces/html.js";
import { Page } from "../pieces/page.js";
import { Loaded, Problem } from "../pieces/problem.js";
import { shareText } from "../pieces/share-list.js";
import { SlipIn } from "../pieces/slip-in.js";
import { today } from "../pieces/today.js";
import { ForCrew } from "../pieces/who-may.js";
import { href } from "../routes.js";
import { saveText } from "../save-text.js";
import { announce, summary } from "../state.js";
import { useState } from "../vendor/hooks.js";
import { ABOARD, LOANS, PLACE } from "../words.js";

/** Write a loan's slip: here where this phone keeps the records, else at the boat's computer. */
const writtenSlip = (loan) => (keepsHere() ? slipOf(keeper.value.aboard(), loan, today(summary.value))
  : getJson(`loans/${loan}/slip`));

function Slip({ slip, close }) {
  const text = JSON.stringify(slip);
  const share = async () => (await shareText(text)) === "copied" && announce(LOANS.shared);
  return html`<div class="panel stack" data-piece="slip"><p>${LOANS.slip_help}</p>
    <div class="buttons"><button type="button" class="main" onClick=${share}>${LOANS.share}</button>
      <button type="button" onClick=${() => saveText(text, LOANS.file(slip.kind, slip.loan))}>${LOANS.save}</button>
      <button type="button" class="plain" onClick=${close}>${LOANS.close}</button></div>
    <div class="field"><label for=${`slip-${slip.loan}`}>${LOANS.text}</label><textarea id=${`slip-${slip.loan}`} rows="3"
      readonly onFocus=${(event) => event.currentTarget.select()}>${text}</textarea></div></div>`;
}

function GiveBack({ line, close }) {
  const draft = useDraft(`give-back.${line.loan}`, { quantity: String(line.quantity - line.back) });
  const [state, setState] = useState({ fault: null, error: null });
  const submit = async (event) => {
    event.preventDefault();
    const { value, problem } = parseCount(draft.values.quantity, null, { atLeast: 0.001 });
    if (problem) { setState({ fault: problem, error: null }); return; }
    const done = await record("do/give-back", { loan: line.loan, quantity: value }, LOANS.give_text(showNumber(value), line.part), { form: true });
    if (done.state === "refused") { setState({ fault: null, error: done.error }); return; }
    draft.clear();
    close();
  };
  return html`<form class="stack" onSubmit=${submit} data-form="give-back"><${Restored} draft=${draft} />
    <${NumberField} label=${LOANS.how_many} name="quantity" value=${draft.values.quantity} fault=${state.fault}
      onValue=${(quantity) => draft.set({ quantity })} />
    <${Problem} error=${state.error} /><button class="main">${LOANS.gave_back}</button></form>`;
}

function Line({ line, isLent }) {
  const [shown, setShown] = useState({ slip: null, gives: false, error: null });
  const open = () => writtenSlip(line.loan).then((slip) => setShown({ slip, gives: false, error: null }),
    (error) => { if (!error.code) throw error; setShown({ slip: null, gives: false, error }); });
  const isOpen = line.back < line.quantity;
  const isLate = line.back_by < today(summary.value);
  return html`<li class="line stack-tight" data-loan=${line.loan}>
    <span class="strong">${LOANS.line(showNumber(line.quantity), line.part, line.name)}</span><br />
    <span class="quiet small">${[(isLent ? LOANS.to : LOANS.from)(line.who, showDay(line.on)),
      line.back > 0 && LOANS.back(showNumber(line.back))].filter(Boolean).join(" · ")}</span>
    ${line.back_by && isOpen && html`<p data-back-by=${line.back_by} class=${isLate ? "strong" : ""}>${(isLate ? LOANS.overdue
    : LOANS.back_by)(showDay(line.back_by))}</p>`}
    <div class="buttons">${!isLent && isOpen && isCrew() && html`<button type="button" aria-expanded=${shown.gives}
        onClick=${() => setShown({ slip: null, gives: !shown.gives, error: null })}>${LOANS.give_back}</button>`}
      ${(isLent || line.back > 0) && html`<button type="button" onClick=${open}>${isLent ? LOANS.slip : LOANS.slip_back}</button>`}</div>
    <${Problem} error=${shown.error} />
    ${shown.gives && html`<${GiveBack} line=${line} close=${() => setShown({ ...shown, gives: false })} />`}
    ${shown.slip && html`<${Slip} slip=${shown.slip} close=${() => setShown({ ...shown, slip: null })} />`}</li>`;
}

const Lines = ({ title, none, lines, isLent }) => html`<section class="stack"><h2>${title}</h2>
  ${lines.length ? html`<ul class="lines">${lines.map((line) => html`<${Line} key=${line.loan} line=${line} isLent=${isLent} />`)}</ul>`
    : html`<p>${none}</p>`}</section>`;

/** What is lent and borrowed. */
export function LoansView() {
  const load = useLoad("loans");
  return html`<${Page} title=${ABOARD.loans} back=${[href(["aboard"]), PLACE.aboard]}>
    <${Loaded} load=${load}>${({ lent, borrowed }) => html`
      <${Lines} title=${LOANS.lent} none=${LOANS.none_lent} lines=${lent} isLent=${true} />
      <${Lines} title=${LOANS.borrowed} none=${LOANS.none_borrowed} lines=${borrowed} isLent=${false} />`}<//>
    <${ForCrew}><${SlipIn} /><//><//>`;
}
