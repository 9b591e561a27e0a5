/** Give the short list to somebody by the phone's share sheet: as text, as a paper, as a table; else by copy or as a file. */

import { paperUrl } from "../paper-url.js";
import { shareFile } from "../save-text.js";
import { announce } from "../state.js";
import { useState } from "../vendor/hooks.js";
import { RESTOCK } from "../words.js";
import { html } from "./html.js";
import { Problem } from "./problem.js";
import { listTable, listText } from "./trip-lines.js";

/** Share a text by the first way that this phone has: "shared", "copied" or "by-hand". */
export async function shareText(text, device = navigator) {
  if (device.share) {
    try {
      await device.share({ text });
      return "shared";
    } catch (error) {
      if (error.name === "AbortError") return "shared";
    }
  }
  try {
    await device.clipboard.writeText(text);
    return "copied";
  } catch {
    return "by-hand";
  }
}

const paperOf = async ({ no }) => {
  const answer = await fetch(paperUrl(`papers/shopping.pdf?trip=${encodeURIComponent(no)}`)).catch(() => null);
  return answer?.ok ? answer.blob() : null;
};
const tableOf = (restock) => new Blob([listTable(restock)], { type: "text/csv" });

/** The list as a file; the paper is printed by the boat's computer. */
function AsFile({ restock }) {
  const [state, setState] = useState({ how: null, error: null });
  const give = async (making, ending) => {
    const blob = await making;
    setState(blob ? { how: await shareFile(blob, `${restock.trip.no}.${ending}`), error: null } : { how: null, error: { code: "no-answer" } });
  };
  return html`<div class="buttons even">
      ${!restock.as_of && html`<button type="button" onClick=${() => give(paperOf(restock.trip), "pdf")}>${RESTOCK.share_paper}</button>`}
      <button type="button" onClick=${() => give(tableOf(restock), "csv")}>${RESTOCK.share_table}</button></div>
    ${state.how === "saved" && html`<p role="status">${RESTOCK.saved}</p>`}<${Problem} error=${state.error} />`;
}

/** @param {{restock: object, by: "date"|"seller"}} props */
export function ShareList({ restock, by }) {
  const [how, setHow] = useState(null);
  const share = async () => {
    const done = await shareText(listText(restock, by));
    setHow(done);
    if (done === "copied") announce(RESTOCK.shared);
  };
  return html`<div class="stack-tight"><button type="button" class="main" onClick=${share}>${RESTOCK.share}</button>
    ${how === "copied" && html`<p>${RESTOCK.shared}</p>`}
    ${how === "by-hand" && html`<div class="field"><label for="list-text">${RESTOCK.share_by_hand}</label>
      <textarea id="list-text" rows="8" readonly onFocus=${(event) => event.currentTarget.select()}>${listText(restock, by)}</textarea>
    </div>`}<${AsFile} restock=${restock} /></div>`;
}
