/** Who may write what: skipper, crew, guest. Mirrors part of spares/sync/rights.py; the boat's computer decides. */

const CREW_KINDS = ["took", "put", "landed", "moved", "counted", "convert", "service", "reading", "exchange", "fit-check",
  "photo", "settle", "void"];
/** The only field that the crew may write. */
const CREW_FIELDS = ["note"];

/** Say whether a role may write this change {kind, body} at all. */
export function mayWrite(role, grants, { kind, body }) {
  if (role === "skipper") return kind !== "restamp";
  if (role === "crew") {
    return CREW_KINDS.includes(kind) || (kind === "set" && Object.keys(body.f).every((name) => CREW_FIELDS.includes(name)));
  }
  return grants.includes("take") && ["took", "void"].includes(kind);
}

/** Say whether a crew member begins a lot, as for a dated thing that is put away. */
export const beginsLot = (role, { kind, body }) =>
  role === "crew" && kind === "set" && body.doc.startsWith("lot/") && !Object.keys(body.base ?? {}).length;
