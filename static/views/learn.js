/** A child learns a job: one step a screen, with a picture, hands-off marks and a counting game. */

import { showDay } from "../dates.js";
import { useDraft, useLoad } from "../load.js";
import { parseNumber, showQuantity } from "../numbers.js";
import { record } from "../outbox.js";
import { NumberField, Restored, TextField } from "../pieces/fields.js";
import { html } from "../pieces/html.js";
import { Page } from "../pieces/page.js";
import { useBytes } from "../pieces/photos.js";
import { Loaded, Problem } from "../pieces/problem.js";
import { Shape, Sign } from "../pieces/shapes.js";
import { ForCrew } from "../pieces/who-may.js";
import { href } from "../routes.js";
import { light, route } from "../state.js";
import { useState } from "../vendor/hooks.js";
import { CAUTION_WORD, DEFERRAL, LEARN, SAY, WORK, cautionLines, told } from "../words.js";

const HANDS_OFF = { word: LEARN.hands_off, shape: "octagon-bar", role: "stop" };
const YOUR_TURN = { word: LEARN.your_turn, shape: "disc-full", role: "good" };

/**
 * Put the screens of a job in their order: what it is, what is dangerous, what an adult shuts off, what to
 * find and count, the steps, what is looked at before it runs. Whatever is done at the machine is hands off.
 */
export function screensOf(card) {
  const off = (title, lines, picture = "octagon-bar") => lines.map((text) => ({ kind: "off", title, text: told(text), picture }));
  const finds = card.kit.flatMap((line) => [{ kind: "find", line, picture: "find" },
    ...(line.take[0] ? [{ kind: "count", line, picture: "disc-half" }] : [])]);
  const steps = card.steps.length ? card.steps : [LEARN.nobody_wrote];
  return [{ kind: "what", title: LEARN.what, text: card.what, picture: "work" },
    ...[...cautionLines(card.cautions), { mark: CAUTION_WORD, text: DEFERRAL }]
      .map((one) => ({ kind: "off", title: one.mark, text: one.text, picture: "triangle" })),
    ...off(LEARN.shut, card.shut_off), ...finds, ...off(LEARN.step, steps, "work"), ...off(LEARN.after, card.after), { kind: "end", picture: "disc-full" }];
}

/** The first photo of a thing, or the shape that stands for the step. */
function Picture({ of, shape }) {
  const photos = useLoad(of && light.value !== "night" ? `photos?${new URLSearchParams({ of })}` : null).data?.photos ?? [];
  const address = useBytes(photos[0] ?? { sha256: "" }, photos.length > 0);
  return html`<div class="learn-picture">${address ? html`<img src=${address} alt="" />` : html`<${Shape} name=${shape} />`}</div>`;
}

function Find({ line }) {
  const [first] = line.take;
  return html`<h2>${LEARN.find(line.name)}</h2>
    ${first ? html`<p class="place"><span class="locker">${first.locker}</span><span class="code">${first.code}</span></p>
      <p class="answer">${LEARN.go(first.locker, first.name)}</p><p>${LEARN.need(showQuantity(line.needed, line.unit))}</p>`
    : html`<p class="answer">${LEARN.not_there}</p>`}`;
}

/** Counting without writing: the list is told only after the child's own number, and stays as it is. */
function Game({ line }) {
  const [typed, setTyped] = useState("");
  const [told, setTold] = useState(null);
  const [first] = line.take;
  const load = useLoad(`lockers/${encodeURIComponent(first.locker)}`);
  const there = (load.data?.lines ?? []).filter((one) => one.no === line.part).reduce((sum, one) => sum + one.quantity, 0);
  const check = (event) => {
    event.preventDefault();
    const { value, problem } = parseNumber(typed);
    if (!problem && load.data) setTold(value === there ? LEARN.right(showQuantity(there)) : LEARN.other(showQuantity(there)));
  };
  return html`<h2>${LEARN.game(line.name, first.locker)}</h2><p>${LEARN.game_help}</p>
    <form class="stack" onSubmit=${check} data-form="counting-game"><${NumberField} label=${LEARN.answer} name="count" value=${typed}
        onValue=${(text) => { setTyped(text); setTold(null); }} />
      <button disabled=${!typed.trim() || !load.data}>${LEARN.check}</button></form>
    ${!load.data && html`<${Problem} error=${load.error} again=${load.again} />`}
    ${told && html`<p class="answer" role="status" data-piece="told">${told}</p>`}`;
}

function End({ card, leave }) {
  const draft = useDraft(`lesson.${card.service}`, { learner: "", seen: "", confirmed_by: "" });
  const [state, setState] = useState({ error: null, done: false, sending: false });
  const { values } = draft;
  const submit = async (event) => {
    event.preventDefault();
    if (!values.learner.trim()) return;
    setState({ ...state, sending: true });
    const told = Object.fromEntries(Object.entries(values).filter(([, text]) => text.trim()).map(([name, text]) => [name, text.trim()]));
    const done = await record("do/lesson", { service: card.service, ...told }, LEARN.text(told.learner, card.service), { form: true });
    setState({ error: done.state === "refused" ? done.error : null, done: done.state !== "refused", sending: false });
    if (done.state !== "refused") { draft.clear(); leave(); }
  };
  const field = (name) => ({ name, value: values[name], onValue: (typed) => draft.set({ [name]: typed }) });
  return html`<form class="stack" onSubmit=${submit} data-form="lesson"><h2>${LEARN.last}</h2>
    <${ForCrew}><${Restored} draft=${draft} /><${TextField} label=${LEARN.seen} ...${field("seen")} /><${TextField} label=${LEARN.learner} ...${field("learner")} />
    <${TextField} label=${LEARN.confirmed_by} hint=${LEARN.confirm_help} ...${field("confirmed_by")} /><${Problem} error=${state.error} />
    ${state.done && html`<p class="strong" role="status">${LEARN.recorded}</p>`}
    <button class="main" disabled=${state.sending || !values.learner.trim()}>${state.sending ? SAY.recording : LEARN.record}</button><//></form>
    ${card.lessons?.length > 0 && html`<section><h2>${LEARN.before}</h2><ul class="plain">${card.lessons.map((one) => html`
      <li>${showDay(one.on)}: ${LEARN.line(one)}</li>`)}</ul></section>`}`;
}

function Screen({ screen, card, leave }) {
  const { kind, title, text, line } = screen;
  if (kind === "find") return html`<p><${Sign} sign=${YOUR_TURN} /></p><${Find} line=${line} />`;
  if (kind === "count") return html`<p><${Sign} sign=${YOUR_TURN} /></p><${Game} key=${line.part} line=${line} />`;
  if (kind === "end") return html`<${End} card=${card} leave=${leave} />`;
  return html`${kind === "off" && html`<p data-piece="hands-off"><${Sign} sign=${HANDS_OFF} /></p>`}<h2>${title}</h2><p class="answer">${text}</p>
    ${kind === "off" ? html`<p class="strong">${LEARN.adult_does}</p>` : html`<p>${LEARN.where(card.machine_name, card.place)}</p>`}`;
}

function Whole({ card }) {
  const draft = useDraft(`learn.${card.service}`, { at: 0 });
  const screens = screensOf(card);
  const at = Math.min(draft.values.at, screens.length - 1);
  const go = (place) => draft.set({ at: place });
  const machine = useLoad(card.machine ? `machines/${encodeURIComponent(card.machine)}` : null).data;
  const screen = screens[at];
  const of = screen.kind === "find" || screen.kind === "count" ? screen.line.take[0] && `locker/${screen.line.take[0].locker_id}`
    : machine && `machine/${machine.id}`;
  return html`<p class="strong">${LEARN.with_adult}</p><p class="quiet" role="status">${LEARN.of(at + 1, screens.length)}</p>
    <div class="panel stack big" data-screen=${screen.kind}><${Picture} key=${at} of=${of} shape=${screen.picture} />
      <${Screen} key=${`screen ${at}`} screen=${screen} card=${card} leave=${() => go(0)} /></div>
    <div class="buttons even"><button type="button" disabled=${at === 0} onClick=${() => go(at - 1)}>${LEARN.back}</button>
      ${at < screens.length - 1 && html`<button type="button" class="main" onClick=${() => go(at + 1)}>${LEARN.next}</button>`}</div>`;
}

/** The job of one service, step by step. */
export function LearnView() {
  const { service: no } = route.value.params;
  const load = useLoad(`services/${encodeURIComponent(no)}/card`);
  return html`<${Page} title=${LEARN.title} back=${[href(["work", no]), load.data?.what ?? WORK.card]}>
    <${Loaded} load=${load}>${(card) => html`<${Whole} card=${card} />`}<//><//>`;
}
