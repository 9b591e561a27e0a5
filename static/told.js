/**
 * Says in another language what the program's tables and sentences say in English.
 *
 * A twin goes by its English text. `{name}` in it stands for a fact, put into the twin where its
 * name stands there. A fact that may be a text of the program itself is looked up in its turn.
 */

const FACT = /\{(\w+)\}/;
const EVERY_FACT = /\{(\w+)\}/g;
const POINT = /(?<![\w.])(\d+)\.(\d+)(?![\d.])/g;
/** A piece of prose, which nothing that only joins texts may cut in two. */
const PROSE = /[a-z]{3,} [a-z]{2,}/;
const JOINING = /^ (?:or|to|at|in|against) $/;
/** Of a sentence that also names a person's own things, only these facts may be texts of the program. */
const NESTED = new Set(["figure", "why", "due", "before", "harbour", "kind"]);
/** Facts that are names and numbers of things: in KR 10.034 the point is no decimal mark. */
const CALLED = new Set(["part", "parts", "other", "machine", "locker", "order", "service", "name", "trail", "trip", "point", "thing", "class"]);
/** A fact that lists codes. */
const LISTS = new Set(["fields"]);

/** Write the decimal figures of a text with the mark of the language; a designation such as M20x1.5 stays. */
export const withMark = (text, mark) => (mark === "." ? text : text.replace(POINT, `$1${mark}$2`));

/** Facts that are one word with a figure in it, or that and its hours: they take in nothing else. */
const WORD = ["beta", "charge", "count", "day", "days", "due_on", "eta", "least", "level", "litres", "mean", "needed", "number", "percent", "since"];
const SPAN = ["charging", "hours", "interval", "most", "ran", "usual", "used"];
const shapeOf = (name) => (name === "ages" ? "([\\d., h]+)" : name === "kind" ? "(\\S+)" : WORD.includes(name) ? "(\\S*\\d\\S*)" : SPAN.includes(name) ? "(\\S*\\d\\S*(?: h)?)" : "([^]+?)");

const asItIs = (text) => text;
const escaped = (text) => text.replace(/[.*+?^${}()|[\]\\]/g, "\\$&");

/** Read `{what} in {place}` as what finds its facts; `deep` where each of them may be a text of the program. */
function readPattern([english, own], deep) {
  const pieces = english.split(FACT);
  const names = pieces.filter((_, at) => at % 2);
  const texts = pieces.filter((_, at) => at % 2 === 0);
  const joins = names.length === 2 && !texts[0] && !texts[2] && JOINING.test(texts[1]);
  return { names, own, deep, joins, letters: texts.join("").length,
    pattern: new RegExp(`^${pieces.map((one, at) => (at % 2 ? shapeOf(one) : escaped(one))).join("")}$`) };
}

/**
 * Give the function that says a text, or gives it back with the decimal mark where it has no twin.
 * @param {{told?: object, sentences?: object, deep?: object, mark?: string}} twins whole texts; sentences
 *   that may name a person's things; sentences made of the program's own texts only; the decimal mark
 */
export function teller({ told = {}, sentences = {}, deep = {}, mark = "." }) {
  const twins = [told, sentences, deep].flatMap((table) => Object.entries(table).map((pair) => [pair, table === deep]));
  const whole = new Map(twins.map(([pair]) => pair));
  // what has most letters of its own says most closely what it is
  const patterns = twins.filter(([[english]]) => FACT.test(english)).map(([pair, isDeep]) => readPattern(pair, isDeep))
    .sort((a, b) => b.letters - a.letters);
  const known = new Map();
  const isProse = (fact) => PROSE.test(fact) && say(fact) === fact;
  const found = (text) => {
    if (whole.has(text)) return whole.get(text);
    for (const { pattern, names, own, joins, deep: isDeep } of patterns) {
      const match = pattern.exec(text)?.slice(1);
      if (match && !(joins && match.some(isProse))) {
        const put = (name) => howSaid(name, isDeep)(match[names.indexOf(name)]);
        return own.replace(EVERY_FACT, (_, name) => put(name));
      }
    }
    return figures(text);
  };
  const howSaid = (name, isDeep) => {
    if (LISTS.has(name)) return listed;
    if (isDeep || NESTED.has(name)) return say;
    return CALLED.has(name) ? asItIs : figures;
  };
  const figures = (text) => withMark(text, mark);
  const listed = (text) => text.split(", ").map(say).join(", ");
  const say = (text) => {
    if (!known.has(text)) known.set(text, found(text));
    return known.get(text);
  };
  return (text) => (typeof text === "string" ? say(text) : text);
}
