/**
 * How typed words find a line. Mirrors spares/domain/search_text.py.
 *
 * Every typed word begins a word of the line, or the typed text lies within a number of the line;
 * only then with one slip of the finger in words of 4 to 7 letters and two in longer ones. A word
 * with a digit in it is never bent.
 */

// Letters that keep their shape under compatibility decomposition.
const LETTERS = { ß: "ss", æ: "ae", œ: "oe", ø: "o", ð: "d", đ: "d", þ: "th", ł: "l", ħ: "h", ı: "i", ŋ: "n", ς: "σ" };
const SHORTEST_NUMBER = 3;
const WORD = /[\p{L}\p{N}]+/gu;

/** Bring text to the form it is compared in: no case, no accents, ß as ss, ø as o. */
export function fold(text) {
  const spaced = text.replace(/([\u00bc-\u00be\u2150-\u215e])/g, " $1");    // 1½ is 1 1/2, not 11/2
  return spaced.normalize("NFKC").toLowerCase().normalize("NFKD")
    .replace(/\p{M}/gu, "").replace(/[ßæœøðđþłħıŋς]/g, (letter) => LETTERS[letter]);
}

/** Give the folded runs of letters and digits, in their order. */
export const words = (text) => fold(text).match(WORD) ?? [];

/** Give a maker's number as it is compared: folded, only letters and digits. */
export const numberKey = (text) => words(text).join("");

/** Fold what can be found of one thing: its texts, and its numbers in words and whole. */
export function searchLine(key, text, numbers = []) {
  const whole = [...new Set(numbers.map(numberKey).filter(Boolean))];
  const all = [...words(text), ...numbers.flatMap(words), ...whole];
  return { key, words: [...new Set(all)], numbers: whole };
}

/** Rank a line of which every query word begins a word; null if one does not. Smaller is better. */
export function prefixMatch(asked, textWords) {
  let partial = 0;
  let places = 0;
  for (const word of asked) {
    let place = textWords.indexOf(word);
    if (place < 0) {
      place = textWords.findIndex((one) => one.startsWith(word));
      if (place < 0) return null;
      partial += 1;
    }
    places += place;
  }
  return [partial, places, textWords.length];
}

const allowedEdits = (word) => {
  if (!/^\p{L}+$/u.test(word) || word.length < 4) return 0;
  return word.length < 8 ? 1 : 2;
};

const lettersMissing = (asked, word) =>
  [...new Set(asked)].reduce((count, letter) => count + Number(!word.includes(letter)), 0);

/** Count the slips that turn `asked` into some beginning of `word`, at most `most`; null if more. */
export function editsToPrefix(asked, word, most) {
  if (word.length < asked.length - most || lettersMissing(asked, word) > most) return null;
  const target = word.slice(0, asked.length + most);
  let before = [];
  let row = Array.from({ length: target.length + 1 }, (_, place) => place);
  for (let i = 1; i <= asked.length; i += 1) {
    const last = before;
    before = row;
    row = [i];
    for (let j = 1; j <= target.length; j += 1) {
      let best = Math.min(before[j] + 1, row[j - 1] + 1, before[j - 1] + (asked[i - 1] !== target[j - 1]));
      if (i > 1 && j > 1 && asked[i - 1] === target[j - 2] && asked[i - 2] === target[j - 1]) {
        best = Math.min(best, last[j - 2] + 1);
      }
      row.push(best);
    }
    if (Math.min(...row) > most && Math.min(...before) > most) return null;
  }
  const fewest = Math.min(...row);
  return fewest <= most ? fewest : null;
}

/** So many lines are looked through before anything else may have its turn. */
const AT_ONCE = 1000;

/** Give the keys of the lines that answer a typed text, best first: {by, keys}. */
export function search(query, lines, limit = 50, ways = {}) {
  const steps = searching(query, lines, limit, ways);
  for (;;) {
    const { done, value } = steps.next();
    if (done) return value;
  }
}

/** The same, but that a key or a touch need not wait for the end: `rest` is awaited between. */
export async function searchWithRests(query, lines, limit, ways, rest) {
  const steps = searching(query, lines, limit, ways);
  for (;;) {
    const { done, value } = steps.next();
    if (done) return value;
    await rest();
  }
}

function* searching(query, lines, limit, { slips = true }) {
  const asked = words(query);
  if (!asked.length) return { by: "nothing", keys: [] };
  const exact = best(yield* ranked(lines, (line) => exactRank(asked, line)), limit);
  if (exact.length) return { by: "words", keys: exact };
  const near = slips ? best(yield* ranked(lines, nearRankOf(asked)), limit) : [];
  return { by: near.length ? "near" : "nothing", keys: near };
}

function* ranked(lines, rankOf) {
  const found = [];
  for (let at = 0; at < lines.length; at += 1) {
    const rank = rankOf(lines[at]);
    if (rank) found.push([rank, lines[at].key]);
    if (at % AT_ONCE === AT_ONCE - 1) yield;
  }
  return found;
}

function best(found, limit) {
  return found.sort(([one, key], [other, otherKey]) =>
    one[0] - other[0] || one[1] - other[1] || one[2] - other[2] || (key < otherKey ? -1 : 1))
    .slice(0, limit).map(([, key]) => key);
}

function exactRank(asked, line) {
  const byNumber = numberRank(asked.join(""), line.numbers);
  const byWords = prefixMatch(asked, line.words);
  if (!byNumber || !byWords) return byNumber ?? byWords;
  return byNumber[0] < byWords[0] || (byNumber[0] === byWords[0] && byNumber[1] <= byWords[1]) ? byNumber : byWords;
}

function numberRank(number, numbers) {
  if (numbers.includes(number)) return [-2, 0, 0];
  if (number.length < SHORTEST_NUMBER || !/\p{N}/u.test(number)) return null;
  const found = numbers.map((full) => full.indexOf(number)).filter((place) => place >= 0);
  if (!found.length) return null;
  const first = Math.min(...found);
  return first === 0 ? [-1, 0, 0] : [number.length, first, 0];
}

function nearRankOf(asked) {
  const known = new Map(asked.map((word) => [word, { most: allowedEdits(word), of: new Map() }]));
  const slips = (queryWord, word) => {
    if (word.startsWith(queryWord)) return 0;
    const { most, of } = known.get(queryWord);
    if (!most) return null;
    if (!of.has(word)) of.set(word, editsToPrefix(queryWord, word, most));
    return of.get(word);
  };
  return (line) => nearRank(asked, line, slips);
}

function nearRank(asked, line, slips) {
  let total = 0;
  let places = 0;
  for (const queryWord of asked) {
    let hit = null;
    line.words.forEach((word, place) => {
      const slip = slips(queryWord, word);
      if (slip !== null && (!hit || slip < hit[0])) hit = [slip, place];
    });
    if (!hit) return null;
    total += hit[0];
    places += hit[1];
  }
  return [total, places, line.words.length];
}
