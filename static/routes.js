/**
 * Addresses inside the page: `#/place/rest?key=value`.
 * Each route names its view; a label's address (`#/l/TGL:LEMJR`) opens the find page.
 */

const ROUTES = [
  ["find", "find"], ["l/:label", "find"], ["find/batch/:mark", "batch"], ["part/:part", "part"],
  ["fit", "fit"], ["fit/machine/:machine", "fit"], ["fit/:point", "fit-point"],
  ["fit/:point/measure", "measure"], ["fit/:point/with/:part", "verdict"],
  ["work", "work"], ["work/readings", "readings"], ["work/reading/:machine", "reading"], ["work/gauge/:machine", "gauge"],
  ["work/walk-round", "walk-round"], ["work/walk-round/:machine", "walk-round-machine"],
  ["work/lay-up", "lay-up"], ["work/joint/:joint", "joint"], ["work/joint/:joint/edit", "joint-edit"],
  ["work/trails", "trails"], ["work/trail/:trail", "trail"],
  ["work/:service", "service"], ["work/:service/learn", "learn"],
  ["restock", "restock"], ["restock/new", "trip-new"], ["restock/:trip", "trip"],
  ["restock/:trip/edit", "trip-edit"], ["restock/:trip/days", "trip-days"],
  ["aboard", "aboard"], ["aboard/begin", "begin"], ["aboard/begin/lockers", "begin-lockers"],
  ["aboard/begin/machine", "begin-machine"], ["aboard/machines", "machines"], ["aboard/machines/:machine", "machine"],
  ["aboard/machines/:machine/missing", "trail-new"], ["aboard/machines/:machine/limits", "gauge-limits"],
  ["aboard/points/:point", "point"], ["aboard/points/:point/joint", "joint-edit"],
  ["aboard/points/:point/asks", "point-asks"], ["aboard/points/:point/place", "point-place"], ["aboard/lockers", "lockers"],
  ["aboard/lockers/:locker", "locker"], ["aboard/plan", "deck-plan"], ["aboard/parts", "parts"], ["aboard/parts/new", "part-new"], ["aboard/stranded", "stranded"],
  ["aboard/unsettled", "unsettled"],
  ["aboard/counts", "counts"], ["aboard/counts/:locker", "count-locker"],
  ["aboard/papers", "papers"], ["aboard/files", "files"], ["aboard/vessels", "vessels"], ["aboard/across", "across"], ["aboard/light", "light"],
  ["aboard/changes", "changes"], ["aboard/loans", "loans"], ["aboard/phone", "phone"],
  ["aboard/people", "people"], ["aboard/signs", "signs"], ["pair/:secret", "phone"],
];

export const PLACES = ["find", "fit", "work", "restock", "aboard"];
const PLACE_OF = { l: "find", pair: "aboard", part: "find" };

function match(pattern, pieces) {
  const wanted = pattern.split("/");
  if (wanted.length !== pieces.length) return null;
  const params = {};
  for (let at = 0; at < wanted.length; at += 1) {
    if (wanted[at].startsWith(":")) params[wanted[at].slice(1)] = pieces[at];
    else if (wanted[at] !== pieces[at]) return null;
  }
  return params;
}

function decode(text) {
  try {
    return decodeURIComponent(text);
  } catch {
    return text;
  }
}

/**
 * Read an address; anything unknown is the find page.
 * @returns {{view: string, place: string, params: object, query: object}}
 */
export function parseRoute(hash) {
  const [path, search = ""] = hash.replace(/^#?\/?/, "").split("?");
  const pieces = path.split("/").filter(Boolean).map(decode);
  const query = Object.fromEntries(new URLSearchParams(search));
  for (const [pattern, view] of ROUTES) {
    const params = match(pattern, pieces);
    if (params) {
      const place = PLACE_OF[pieces[0]] ?? pieces[0];
      return { view, place, params, query };
    }
  }
  return { view: "find", place: "find", params: {}, query: {} };
}

/** Write an address from its pieces, each escaped: `href(["part", "P034"], {at: "L17"})`. */
export function href(pieces, query = {}) {
  const kept = Object.entries(query).filter(([, value]) => value !== null && value !== undefined);
  const search = new URLSearchParams(kept).toString();
  return `#/${pieces.map(encodeURIComponent).join("/")}${search ? `?${search}` : ""}`;
}
