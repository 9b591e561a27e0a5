/** A joint sheet in big type: warnings, pieces from the face outwards, the order, the passes, the torque. */

import { jointOrder, jointTable } from "../pictures/joint-order.js";
import { href } from "../routes.js";
import { CAUTION_WORD, JOINT, TIGHTEN, told } from "../words.js";
import { html } from "./html.js";
import { Picture } from "./picture.js";
import { Sign } from "./shapes.js";
import { againText } from "./tightened.js";
import { Ticks } from "./ticks.js";

/** Write one piece: `12 × P018 Conical spring washer M10, hollow side to the flange`. */
export function pieceText({ count, part, name, words }) {
  const named = [part, name].filter(Boolean).join(" ");
  return [count && `${count} ×`, [named, words].filter(Boolean).join(", ")].filter(Boolean).join(" ");
}

function Warnings({ warnings }) {
  if (!warnings.length) return null;
  return html`<div class="caution" data-piece="joint-warnings">${warnings.map(({ mark, text }) => html`<p key=${mark}>
    <${Sign} sign=${{ word: `${CAUTION_WORD}, ${told(mark)}`, shape: "triangle", role: "watch" }} />${" "}${told(text)}</p>`)}</div>`;
}

function Torque({ torque }) {
  const text = torque.kind === "not-known" ? JOINT.torque_not_known : torque.text;
  return html`<div data-torque=${torque.kind}><h3>${JOINT.torque}</h3><p class="answer">${told(text)}</p>
    ${torque.kind === "estimate" && html`<p class="strong">${JOINT.estimate}</p>`}
    ${torque.kind === "book" && html`<p>${torque.page ? JOINT.page(torque.page) : JOINT.no_page}</p>`}
    ${torque.remarks.map((text_) => html`<p class="quiet small">${told(text_)}</p>`)}</div>`;
}

/** @param {{joint: object, draft: object, link?: boolean}} props `draft` keeps the ticks; `link` leads to the page in big type */
export function JointSheet({ joint, draft, link = false }) {
  const laid = joint.pattern ?? "cross";
  const name = (what) => `${joint.joint}-${what}`;
  return html`<section class="joint stack" data-joint=${joint.joint}>
    ${link && html`<h3>${JOINT.title} ${joint.joint}: ${joint.name}</h3><p><a class="button" href=${href(["work", "joint", joint.joint])}>${JOINT.open}</a></p>`}
    <${Warnings} warnings=${joint.warnings} />
    ${joint.pieces.length ? html`<${Ticks} title=${JOINT.pieces} lines=${joint.pieces.map(pieceText)} draft=${draft} name=${name("piece")} />`
    : html`<p>${JOINT.no_pieces}</p>`}
    ${joint.order_fault && html`<p class="strong">${told(joint.order_fault)}</p>`}
    ${joint.order.length > 1 && html`<${Picture} name="joint-order" title=${JOINT.order} table=${() => jointTable(joint)}
      notes=${[JOINT.turn, JOINT.source[laid]]} draw=${(size) => jointOrder(joint, size)} />`}
    <${Torque} torque=${joint.torque} />
    ${joint.passes.length > 0 && html`<${Ticks} title=${JOINT.passes} draft=${draft} name=${name("pass")}
      lines=${[...joint.passes.map(JOINT.pass), JOINT.last_round]} />`}
    ${joint.tightened?.[0] && againText(joint.tightened[0]) && html`<p class="strong">${TIGHTEN.due} ${againText(joint.tightened[0])}</p>`}
    ${joint.note && html`<p class="told">${joint.note}</p>`}</section>`;
}
