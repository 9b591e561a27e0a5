/** Another vessel's slip, as a file or pasted: what it says is shown before it is taken in. */

import { showDay } from "../dates.js";
import { quantityOf, readSlip } from "../domain/slip.js";
import { useDraft } from "../load.js";
import { showQuantity } from "../numbers.js";
import { record } from "../outbox.js";
import { announce } from "../state.js";
import { useEffect, useId, useState } from "../vendor/hooks.js";
import { LOANS } from "../words.js";
import { ANEW, LinesField, Restored } from "./fields.js";
import { html } from "./html.js";
import { LockerPicker } from "./picker.js";
import { Problem } from "./problem.js";

const EMPTY = { text: "", locker: "" };
const LARGEST = 100_000;
const THOUSAND = 1000;
const noSlip = () => ({ code: "invalid-input", detail: LOANS.no_slip });

/** Read a slip from its text; throws what is wrong with it. */
export async function slipFrom(text) {
  let slip;
  try {
    slip = JSON.parse(text);
  } catch {
    throw noSlip();
  }
  // A plain page cannot work the seal out; the boat's computer does.
  return globalThis.crypto?.subtle ? readSlip(slip) : slip;
}

/** Say in words what a slip is about. */
export function saidBy(slip) {
  const quantity = showQuantity(quantityOf(slip) / THOUSAND, slip.part.unit ?? "pcs");
  const part = [slip.part.name, slip.part.maker, slip.part.number].filter(Boolean).join(", ");
  const say = slip.kind === "loan" ? LOANS.says_loan : LOANS.says_return;
  const who = slip.kind === "loan" ? slip.lender.name || slip.lender.mark : slip.borrower;
  return say(who || LOANS.other, quantity, part, showDay(slip.on));
}

function useSlip(text) {
  const [read, setRead] = useState({ slip: null, error: null });
  useEffect(() => {
    let current = true;
    const settle = (slip, error) => current && setRead({ slip, error });
    if (!text.trim()) settle(null, null);
    else slipFrom(text).then((slip) => settle(slip, null), (error) => settle(null, error.code ? error : noSlip()));
    return () => { current = false; };
  }, [text]);
  return read;
}

/** The form that takes a slip in. */
export function SlipIn() {
  const id = useId();
  const draft = useDraft("slip-in", EMPTY);
  const { values, set, clear } = draft;
  const { slip, error } = useSlip(values.text);
  const [done, setDone] = useState({ said: null, error: null, faults: {} });
  const choose = async (file) => set({ text: file.size > LARGEST ? "?" : await file.text() });
  const submit = async (event) => {
    event.preventDefault();
    if (slip.kind === "loan" && !values.locker) {
      setDone({ said: null, error: null, faults: { locker: "choose-one" } });
      return;
    }
    const body = { slip, ...(values.locker ? { locker: values.locker } : {}) };
    const answer = await record("do/slip-in", body, LOANS.took(slip.part.name), { form: true });
    const said = answer.answer?.was_new === false ? LOANS.known : LOANS.taken;
    setDone({ said: answer.state === "refused" ? null : said, error: answer.error, faults: {} });
    if (answer.state === "refused") return;
    announce(said);
    clear();
  };
  return html`<section class="stack" data-piece="slip-in"><h2>${LOANS.take_in}</h2><p>${LOANS.take_help}</p>
    <${Restored} draft=${draft} />
    <div class="field"><label for=${id}>${LOANS.choose}</label><input id=${id} type="file" name="slip-file"
      accept=".json,application/json" ...${ANEW} onChange=${(event) => event.currentTarget.files[0] && choose(event.currentTarget.files[0])} /></div>
    <${LinesField} label=${LOANS.paste} name="slip" lines=${3} value=${values.text} onValue=${(text) => set({ text })} />
    <${Problem} error=${error} />
    ${slip && html`<form class="panel stack" onSubmit=${submit} data-form="slip-in"><p class="strong" role="status">${saidBy(slip)}</p>
      <${LockerPicker} label=${slip.kind === "loan" ? LOANS.stowed : LOANS.home} name="slip-locker" value=${values.locker}
        fault=${done.faults.locker} onValue=${(locker) => set({ locker })} />
      <${Problem} error=${done.error} /><button class="main">${LOANS.take}</button></form>`}
    ${done.said && !values.text && html`<p class="answer" role="status">${done.said}</p>`}</section>`;
}
