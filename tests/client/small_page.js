/**
 * A page small enough for Node: elements, texts, events and the focus, as far as Preact asks for them. What a
 * browser lays out or paints is not here; tests/browser has that.
 */

class Leaf extends EventTarget {
  parentNode = null;
  get nextSibling() { return this.parentNode?.childNodes[this.parentNode.childNodes.indexOf(this) + 1] ?? null; }
  remove() { this.parentNode?.removeChild(this); }
}

class Text extends Leaf {
  nodeType = 3;
  constructor(data) { super(); this.data = data; }
  get textContent() { return this.data; }
}

export class Element extends Leaf {
  nodeType = 1;
  childNodes = [];
  attributes = [];
  style = {};
  dataset = {};
  constructor(name, namespaceURI = "http://www.w3.org/1999/xhtml") {
    super();
    Object.assign(this, { localName: name, nodeName: name.toUpperCase(), namespaceURI, disabled: false, value: "" });
  }
  get firstChild() { return this.childNodes[0] ?? null; }
  get textContent() { return this.childNodes.map((one) => one.textContent).join(""); }
  set textContent(text) { this.childNodes = text ? [Object.assign(new Text(text), { parentNode: this })] : []; }
  setAttribute(name, value) {
    this.attributes = [...this.attributes.filter((one) => one.name !== name), { name, value: String(value) }];
  }
  getAttribute(name) { return this.attributes.find((one) => one.name === name)?.value ?? null; }
  removeAttribute(name) { this.attributes = this.attributes.filter((one) => one.name !== name); }
  insertBefore(node, before) {
    node.remove();
    const at = before ? this.childNodes.indexOf(before) : this.childNodes.length;
    this.childNodes.splice(at, 0, node);
    node.parentNode = this;
    return node;
  }
  appendChild(node) { return this.insertBefore(node, null); }
  removeChild(node) {
    this.childNodes = this.childNodes.filter((one) => one !== node);
    node.parentNode = null;
    if (document.activeElement && !document.body.all().includes(document.activeElement)) document.activeElement = document.body;
  }
  contains(node) { return this === node || this.all().includes(node); }
  all() { return this.childNodes.flatMap((one) => (one instanceof Element ? [one, ...one.all()] : [])); }
  focus() { document.activeElement = this; }
  closest(name) { return this.localName === name ? this : this.parentNode?.closest(name); }
  querySelector(names) { return this.all().find((one) => names.split(", ").includes(one.localName)) ?? null; }
}

globalThis.document = Object.assign(new EventTarget(), {
  hidden: false, visibilityState: "visible", documentElement: new Element("html"), body: new Element("body"),
  createElement: (name) => new Element(name), createElementNS: (space, name) => new Element(name, space),
  createTextNode: (text) => new Text(text), getElementById: () => null, querySelector: () => null,
});
document.activeElement = document.body;
globalThis.requestAnimationFrame = (work) => setTimeout(work).unref();
globalThis.cancelAnimationFrame = clearTimeout;
globalThis.location ??= { hash: "", hostname: "boat.local", host: "boat.local", href: "https://boat.local/" };

const { render } = await import("../../static/vendor/preact.js");
const { html } = await import("../../static/pieces/html.js");

/** Wait until what was changed is drawn and its effects have run. */
export async function drawn() {
  for (let turn = 0; turn < 12; turn += 1) await new Promise((resolve) => { setTimeout(resolve, 2); });
}

/** Draw a piece with its props; gives {find, all, text, press, type, end}. */
export async function show(piece, props = {}) {
  const root = document.body.appendChild(new Element("main"));
  render(html`<${piece} ...${props} />`, root);
  await drawn();
  const all = (wanted) => root.all().filter(wanted);
  const find = (wanted) => all(typeof wanted === "string" ? (one) => one.localName === "button" && one.textContent.trim() === wanted
    : wanted)[0];
  const send = (element, name) => element.dispatchEvent(new Event(name, { bubbles: true, cancelable: true }));
  return { root, all, find, text: () => root.textContent,
    /** Press a button, as a finger does: one that is not to be pressed takes no press. */
    press: (wanted) => { const one = find(wanted); if (one && !one.disabled) send(one, "click"); return Boolean(one); },
    submit: () => send(find((one) => one.localName === "form"), "submit"),
    type: (name, text) => { const one = find((each) => each.name === name || each.getAttribute("name") === name); one.value = text; send(one, "input"); },
    send, end: () => { render(null, root); root.remove(); } };
}
