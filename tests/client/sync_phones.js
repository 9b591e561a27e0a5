// Phones with the client's own modules: one JSON request a line in, one answer a line out.

import { createInterface } from "node:readline";
import { fold } from "../../static/domain/stock.js";
import { askAboutAllHeld, newBox, putIn, waitingInOrder } from "../../static/sync/box.js";
import { entriesOf, known, newCopy } from "../../static/sync/copy.js";
import { takeAnswer, takeIntoCopy, writeRequest } from "../../static/sync/exchange.js";

const phones = new Map();
let fresh = 0;
const freshText = () => `inst-${(fresh += 1)}`;

const VERBS = {
  ask: ({ name }) => askAboutAllHeld(phones.get(name).box),
  copy: ({ name, as }) => { phones.set(as, structuredClone(phones.get(name))); },
  entries: ({ name }) => entriesOf(phones.get(name).copy),
  new: ({ name, vessel, dev }) => {
    phones.set(name, { vessel, box: newBox(dev, freshText()), copy: newCopy() });
  },
  forget: () => phones.clear(),
  record: ({ name, change, clock }) => {
    const { box, copy } = phones.get(name);
    return putIn(box, change, known(copy), clock);
  },
  request: ({ name, clock }) => {
    const { box, copy, vessel } = phones.get(name);
    return writeRequest(box, copy, vessel, clock);
  },
  // `dies`: the page is closed after the copy was stored and before the box was.
  take: ({ name, request, answer, dies }) => {
    const { box, copy } = phones.get(name);
    if (answer.stop !== "fork") takeIntoCopy(copy, request, answer);
    return dies ? false : takeAnswer(box, copy, request, answer, freshText);
  },
  // What a closed page leaves: all but a copy that was just being pulled anew.
  reopen: ({ name }) => {
    const phone = structuredClone(phones.get(name));
    phone.copy.rebuilt = null;
    phones.set(name, phone);
  },
  state: ({ name }) => {
    const { box, copy } = phones.get(name);
    return {
      dev: box.dev, made: box.made, waiting: waitingInOrder(box),
      relay: copy.relay.length, gone: box.gone, held: [...box.held.keys()],
      refused: [...box.refused.keys()], said: [...box.refused.values()].map(({ code, say }) => [code, say]),
      cells: fold(entriesOf(copy, box, waitingInOrder(box))),
    };
  },
};

for await (const line of createInterface({ input: process.stdin })) {
  const { verb, ...given } = JSON.parse(line);
  const answer = VERBS[verb](given);
  process.stdout.write(`${JSON.stringify({ answer: answer ?? null })}\n`);
}
