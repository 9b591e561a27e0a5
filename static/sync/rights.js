/** Who may write what: skipper, crew, guest. Mirrors part of spares/sync/rights.py; the boat's computer decides. */

const CREW_KINDS = ["took", "put", "landed", "moved", "counted", "convert", "service", "reading", "exchange", "fit-check",
  "photo", "settle", "void"];
/** The only field that the crew may write. */
const CREW_FIELDS = ["note"];
/** What the crew writes whole: where it looked, what it found, drained, read, tightened, doubts. */
const CREW_DOCS = ["trail-place", "finding", "drain-record", "gauge-reading", "test-run", "daily-run", "joint-record",
  "count-doubt", "lesson", "photo-mark"];

/** What the crew says of a trail when it begins one; that pieces stay missing is for the skipper to accept. */
const BEGINS_TRAIL = ["no", "machine", "point", "what", "of_pieces", "missing", "began_on", "by", "first_run", "note"];
/** A gauge that nobody wrote down yet begins without limits: those are for the skipper. */
const BEGINS_GAUGE = ["no", "name", "machine", "unit", "place"];
const BEGINS = { trail: BEGINS_TRAIL, gauge: BEGINS_GAUGE };
/** What it says of a trail afterwards: what the first run showed. */
const OF_TRAIL = ["note", "first_run"];

function crewMaySet({ doc, f, base = {} }) {
  const kind = doc.slice(0, doc.indexOf("/"));
  const named = Object.keys(f);
  if (named.every((name) => CREW_FIELDS.includes(name)) || CREW_DOCS.includes(kind)) return true;
  if (kind === "trail" && named.every((name) => OF_TRAIL.includes(name))) return true;
  const begins = BEGINS[kind] ?? [];
  const begun = named.every((name) => begins.includes(name) || name === "gone") && (f.gone ?? false) === false;
  return begins.length > 0 && begun && !Object.values(base ?? {}).some((heads) => heads.length);
}

/** Say whether a role may write this change {kind, body} at all. */
export function mayWrite(role, grants, { kind, body }) {
  if (role === "skipper") return kind !== "restamp";
  if (role === "crew") {
    return CREW_KINDS.includes(kind) || (kind === "set" && crewMaySet(body));
  }
  return grants.includes("take") && ["took", "void"].includes(kind);
}

/** Say whether a crew member begins a lot, as for a dated thing that is put away. */
export const beginsLot = (role, { kind, body }) =>
  role === "crew" && kind === "set" && body.doc.startsWith("lot/") && !Object.keys(body.base ?? {}).length;
