// A long page is drawn to its end, also where it is put aside meanwhile: nobody paints it then.
import assert from "node:assert/strict";
import test from "node:test";

/** As much of a document as the drawing of plain elements asks for. */
class Bare {
  childNodes = [];
  parentNode = null;
  constructor(name) { this.nodeName = this.localName = name; }
  get firstChild() { return this.childNodes[0] ?? null; }
  get nextSibling() { return this.parentNode?.childNodes[this.parentNode.childNodes.indexOf(this) + 1] ?? null; }
  insertBefore(one, before) {
    one.parentNode?.removeChild(one);
    this.childNodes.splice(before ? this.childNodes.indexOf(before) : this.childNodes.length, 0, one);
    one.parentNode = this;
    return one;
  }
  appendChild(one) { return this.insertBefore(one, null); }
  removeChild(one) { this.childNodes.splice(this.childNodes.indexOf(one), 1); one.parentNode = null; return one; }
  remove() { this.parentNode?.removeChild(this); }
  setAttribute() {}
  removeAttribute() {}
  addEventListener() {}
}

/** Who asks so often without a rest lets nothing else have its turn, for ever: it is stopped here. */
const MOST = 2000;
let [isHidden, looks] = [false, 0];
globalThis.document = {
  get hidden() {
    if (isHidden && (looks += 1) > MOST) isHidden = false;
    return isHidden;
  },
  createElement: (name) => new Bare(name), createElementNS: (_space, name) => new Bare(name),
  createTextNode: (data) => Object.assign(new Bare("#text"), { data, nodeType: 3 }),
};
globalThis.requestAnimationFrame = (work) => setTimeout(work, isHidden ? 100_000 : 2).unref();
globalThis.cancelAnimationFrame = clearTimeout;
const { render } = await import("../../static/vendor/preact.js");
const { html } = await import("../../static/pieces/html.js");
const { InTurn, Lines } = await import("../../static/pieces/in-turn.js");

const lines = Array.from({ length: 20 }, (_, place) => place);
const line = (one) => html`<li key=${one}>${one}</li>`;
const count = (node, name) => (node.localName === name) + node.childNodes.reduce((sum, one) => sum + count(one, name), 0);

const rest = () => new Promise((resolve) => { setTimeout(resolve, 5); });

for (const hides of [false, true]) {
  test(`a page is drawn to its end${hides ? " that nobody looks at any more" : ""}`, async () => {
    [isHidden, looks] = [false, 0];
    const page = new Bare("main");
    render(html`<${InTurn}><${Lines} of=${lines} line=${line} /><p>behind</p><//>`, page);
    while (count(page, "li") < 8) await rest();
    isHidden = hides;
    for (let wait = 0; wait < 1000 && looks < MOST && count(page, "p") < 1; wait += 1) await rest();
    assert.deepEqual([count(page, "li"), count(page, "p"), looks < MOST], [20, 1, true]);
  });
}
