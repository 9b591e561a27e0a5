// A panel that closes by a press in it gives the focus back to the button that opened it.
import assert from "node:assert/strict";
import test from "node:test";
import { drawn, show } from "./small_page.js";

globalThis.fetch = async () => { throw new TypeError("network"); };
const { AnswerCard } = await import("../../static/pieces/answer-card.js");
const { CARD, COUNTING } = await import("../../static/words.js");

const part = { no: "P034", name: "Filter", unit: "pcs", fits: [], tags: [],
  where: [{ locker: "L17", name: "Forepeak", code: "EMJR", quantity: 2, low: 2, high: 2, lots: [] }] };

for (const [opens, presses] of [[CARD.not_here, CARD.record_none("L17")], [CARD.more, COUNTING.doubt]]) {
  test(`${opens}: ${presses}`, async () => {
    const page = await show(AnswerCard, { part });
    page.press(opens);
    await drawn();
    page.find(presses).focus();
    page.press(presses);
    await drawn();
    assert.equal(document.activeElement.textContent.trim(), opens);
    page.end();
  });
}
