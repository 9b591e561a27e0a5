/**
 * The phone's own copy of what Fit needs, and answers from it while the boat's computer is silent.
 * Two files: kind sheets with tables (for all vessels), and the fit points of the chosen vessel.
 */

import { SparesError, apiUrl, getJson, postJson } from "./api.js";
import { InvalidInput } from "./domain/errors.js";
import { keeper, keepsHere } from "./kept/kept.js";
import { keepFile, recallFile } from "./phone-files.js";
import { today } from "./pieces/today.js";
import { vessel } from "./state.js";

const SHEETS = "fit/sheets.json";
const POINTS = "fit/points.json";
export const KINDS = "fit/kinds";
const PATIENCE_MS = 4000;      // with a copy at hand nobody waits longer for an answer

const SETTLE_MS = 1200;
/** What took long to bring is not asked for again before so many times as long. */
const REST_TIMES = 10;

let waiting = null;
let bringing = null;
const restUntil = new Map();

const opened = { etag: null, book: null };
const read = { etag: null, points: null };
const nameOf = (path) => (path === SHEETS ? SHEETS : `${POINTS} ${vessel.peek() ?? ""}`);

/** What came is kept as it came: in a large vessel to read it takes long, and it may never be asked for. */
const dataOf = (kept) => kept.data ?? JSON.parse(new TextDecoder().decode(kept.bytes));

async function refresh(path) {
  const [name, url] = [nameOf(path), apiUrl(path)];      // of one vessel, whichever is chosen meanwhile
  const kept = await recallFile(name);
  const headers = kept ? { "If-None-Match": kept.etag } : {};
  const answer = await fetch(url, { headers, cache: "no-store" });
  if (answer.ok) await keepFile(name, { etag: answer.headers.get("ETag"), bytes: await answer.arrayBuffer() });
}

async function refreshNow() {
  const [start, name] = [Date.now(), nameOf(POINTS)];
  try {
    await Promise.all([SHEETS, POINTS].map(refresh));
    restUntil.set(name, Date.now() + REST_TIMES * (Date.now() - start));
    await fitRules();       // in memory, also where no worker keeps files
  } catch {
    // the boat's computer does not answer: the copy stays as it is
  }
}

/** Bring the copy up to date a little later, once for several changes; only what is new is sent. */
export function refreshFitCopy() {
  clearTimeout(waiting);
  waiting = setTimeout(async () => {
    if (bringing) await bringing;       // one at a time
    bringing ??= refreshNow().finally(() => { bringing = null; });
  }, Math.max(SETTLE_MS, (restUntil.get(nameOf(POINTS)) ?? 0) - Date.now()));
}

/** Bring the rules of fit, which a page needs only when it judges by itself. */
async function fitRules() {
  const bring = () => Promise.all([import("./domain/fit/fit_book.js"),
    import("./domain/fit/sheets.js"), import("./kept/lists.js")]);
  const [book, sheets, { aftermathOf }] = await bring().catch(bring);
  return { ...book, openBook: sheets.openBook, aftermathOf };
}

const keptFiles = () => Promise.all([SHEETS, POINTS].map((path) => recallFile(nameOf(path))));

/** Give {copy, book, rules}, or null where this phone has none yet. */
export async function fitCopy() {
  const [sheets, points] = await keptFiles();
  if (!sheets || !points) return null;
  const rules = await fitRules();
  if (opened.etag !== sheets.etag) Object.assign(opened, { etag: sheets.etag, book: rules.openBook(dataOf(sheets)) });
  if (read.etag !== points.etag) Object.assign(read, { etag: points.etag, points: dataOf(points) });
  return { copy: read.points, book: opened.book, rules };
}

/** Give the kind sheets: those that this phone keeps, else those of the boat's computer. */
export async function fitBook() {
  return (await fitCopy())?.book ?? (await fitRules()).openBook(await getJson(SHEETS));
}

function found(thing, copy) {
  if (!thing) throw new SparesError("not-found");
  return { ...thing, as_of: copy.as_of };
}

function readCopy({ copy, book, rules }, path) {
  if (path === KINDS) return { faults: book.faults, as_of: copy.as_of };
  const [place, rest] = path.split(/[/?]/);
  const ref = decodeURIComponent((rest ?? "").replace(/^q=/, ""));
  if (place === "find") return found(rules.findIn(copy, ref), copy);
  if (place === "machines") return found(ref ? rules.machineIn(copy, ref) : { machines: copy.machines }, copy);
  return found(rules.pointIn(copy, ref), copy);
}

function judgeCopy({ copy, book, rules }, body) {
  try {
    const verdict = rules.judgeIn(copy, book, body, today(null));
    // What was fitted on this phone since strands other parts than the book says.
    const after = keepsHere() && body.part ? rules.aftermathOf(keeper.value.aboard(), body.point, body.part) : null;
    return { ...verdict, ...after };
  } catch (error) {
    if (!(error instanceof InvalidInput)) throw error;
    throw new SparesError(error.code, error.detail, { errors: error.errors });
  }
}

/** Ask the boat's computer; when it does not answer, the copy, which then says its day. */
async function askOr(ask, answer) {
  const isHere = (await keptFiles()).every(Boolean);
  if (!isHere) return ask();
  const asked = ask();
  const late = new Promise((resolve) => { setTimeout(resolve, PATIENCE_MS, null); });
  try {
    return (await Promise.race([asked, late])) ?? answer(await fitCopy());
  } catch (error) {
    if (error.code !== "no-answer") throw error;
    return answer(await fitCopy());
  } finally {
    asked.catch(() => {});      // too late to matter
  }
}

/** Read `fit/kinds`, `machines`, `machines/HBR`, `points/HBR-04` or `find?q=...`, from the copy if need be. */
export const getOrCopy = (path) => askOr(() => getJson(path), (kept) => readCopy(kept, path));

/** Judge {point, part, offers}, on this phone if need be. */
export const judge = (body) => askOr(() => postJson("fit", body), (kept) => judgeCopy(kept, body));
