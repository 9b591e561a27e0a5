/** Choose a locker or a part by code, number or a word; an exact code chooses by itself. */

import { isCode, normalise } from "../domain/codes.js";
import { useLoad, useSettled } from "../load.js";
import { useEffect, useRef, useState } from "../vendor/hooks.js";
import { PICK } from "../words.js";
import { TextField } from "./fields.js";
import { html } from "./html.js";
import { nameOf } from "./lines.js";

const MOST = 6;

const fold = (text) => text.toLowerCase().normalize("NFD").replace(/\p{M}/gu, "");

/** Keep the lockers in which every typed word begins some word; an exact number or code comes alone, but L1 with L17. */
export function lockersFor(lockers, typed) {
  const code = normalise(typed);
  const exact = lockers.filter((locker) => locker.no?.toUpperCase() === code
    || (isCode(typed) && locker.code === code));
  const longer = lockers.filter((locker) => !exact.includes(locker) && locker.no?.toUpperCase().startsWith(code));
  if (exact.length) return [...exact, ...longer];
  const words = fold(typed).split(/\s+/).filter(Boolean);
  return lockers.filter((locker) => {
    const text = fold(`${locker.no} ${locker.name} ${locker.code ?? ""}`);
    return words.every((word) => text.includes(word));
  });
}

function Choice({ label, fault, text, chosen, name, hint, onText, onClear, options }) {
  const place = useRef(null);
  const isHere = place.current?.contains(document.activeElement);
  useEffect(() => {     // what was pressed or typed into is gone: what stands there now has the focus
    if (isHere) place.current.querySelector("button, input").focus();
  }, [Boolean(chosen)]);
  if (chosen) {
    return html`<div class="field" ref=${place}><span class="label">${label}</span>
      <div class="buttons"><span class="line">${chosen}</span>
        <button type="button" onClick=${onClear}>${PICK.change}</button></div></div>`;
  }
  return html`<div ref=${place}><${TextField} label=${label} value=${text} onValue=${onText} fault=${fault}
      name=${name} hint=${hint} autocapitalize="none" spellcheck=${false} />
    <ul class="lines stack-tight">${options}</ul></div>`;
}

/** @param {{label, value: string, onValue: function, fault?: string, except?: string}} props */
export function LockerPicker({ label, value, onValue, fault, name, except }) {
  const [text, setText] = useState("");
  const { data } = useLoad("lockers");
  const lockers = (data?.lockers ?? []).filter((locker) => nameOf(locker) !== except);
  const chosen = value && lockers.find((locker) => nameOf(locker) === value);
  useEffect(() => {     // also when the lockers come after the typing
    const found = text.trim() && !value ? lockersFor(lockers, text) : [];
    if (found.length === 1 && isExact(found[0], text)) onValue(nameOf(found[0]));
  }, [text, data]);
  const shown = text.trim() ? lockersFor(lockers, text).slice(0, MOST) : lockers.slice(0, 0);
  return html`<${Choice} label=${label} fault=${fault} text=${text} name=${name}
    chosen=${value && (chosen ? `${chosen.no} ${chosen.name}` : value)} onText=${setText}
    hint=${PICK.type_locker} onClear=${() => { setText(""); onValue(""); }}
    options=${shown.map((locker) => html`<li><button type="button" class="line"
      onClick=${() => onValue(nameOf(locker))}>${locker.no} ${locker.name}</button></li>`)} />`;
}

function isExact(locker, text) {
  return locker.code === normalise(text) || locker.no?.toUpperCase() === normalise(text);
}

/** @param {{label, onPick: function, hint?: string, ask?: function}} props; onPick gets the part's line */
export function PartPicker({ label, onPick, hint, name, ask }) {
  const [text, setText] = useState("");
  const settled = useSettled(text.trim(), 180, false);
  const { data } = useLoad(settled.length > 1 ? `find?q=${encodeURIComponent(settled)}` : null, ask);
  const parts = (data?.hits ?? []).filter((hit) => hit.type === "part").slice(0, MOST);
  const empty = data && settled && !parts.length;
  return html`<${Choice} label=${label} text=${text} onText=${setText} hint=${hint} name=${name}
    options=${[...parts.map((part) => html`<li><button type="button" class="line"
      onClick=${() => onPick(part)}><span class="name">${part.name}</span>${" "}
      <span class="quiet small">${[nameOf(part), part.maker, part.number].filter(Boolean).join(" · ")}
      </span></button></li>`), empty && html`<li><p>${PICK.none}</p></li>`]} />`;
}
