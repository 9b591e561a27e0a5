/**
 * Kind sheets, named changes and tables, opened from the one data file of the server.
 * Mirrors spares/domain/fit/sheets.py; what is left out of the data stands at its default.
 */

import { openTables } from "../../standards/tables.js";
import { InvalidInput } from "../errors.js";
import { exact } from "../units.js";

const LINE = { type: "word", unit: "", cmp: "equal", tol: null, tol_wide: null, tol_percent: null,
  severity: "stop", advisory_when: [], changes: [], tool: "eye", rubber: false, seat: false,
  offered_as: "", words: [], aliases: {}, ranks: [], offered_any: false, judge: "", measure: "",
  drawing: "", why: "", caution: "", signed: false, position: 0 };
const CHANGE_WHEN = { side: "", when: {} };
const IMPLIED = { when: {}, value: null, value_of: "", cmp: null, unstated: "silent", severity: "",
  always: false };

function openLine(given) {
  const line = { ...LINE, ...given };
  for (const name of ["tol", "tol_wide", "tol_percent"]) {
    if (line[name] !== null) line[name] = exact(line[name]);
  }
  line.aliases = new Map(Object.entries(line.aliases));
  line.changes = line.changes.map((change) => ({ ...CHANGE_WHEN, ...change }));
  return line;
}

function openSheet(given) {
  const lines = Object.entries(given.attributes).map(([code, line]) => [code, openLine(line)]);
  return { kind: given.kind, label: given.label, attributes: new Map(lines),
    implied: (given.implied ?? []).map((rule) => ({ ...IMPLIED, ...rule })) };
}

/**
 * Open the data of `fit/sheets.json` once; the check is then asked with what this gives.
 * @param {{sheets: object, changes: object, tables: object, types: object, tools: object}} data
 */
export function openBook(data) {
  const [opened, memory] = [new Map(), new Map()];
  const kept = (shelf, key, make) => {
    if (!shelf.has(key)) shelf.set(key, make());
    return shelf.get(key);
  };
  return {
    table: openTables(data.tables),
    changes: new Map(Object.entries(data.changes)),
    types: data.types,
    tools: data.tools,
    used_rubber_mm: data.used_rubber_mm,
    faults: data.faults ?? [],
    /** Keep what is worked out from the tables alone, so that it is worked out once. */
    once: (key, make) => kept(memory, key, make),
    /** List the kinds by name. */
    kinds: () => Object.keys(data.sheets).sort((a, b) => data.sheets[a].label.localeCompare(data.sheets[b].label)),
    /** Give the name of a kind; its code where no sheet has it. */
    labelOf: (kind) => (Object.hasOwn(data.sheets, kind) ? data.sheets[kind].label : kind),
    sheet(kind) {
      if (!Object.hasOwn(data.sheets, kind)) {
        const why = (data.faults ?? []).filter((one) => one.kind === kind)
          .map((one) => `${one.file}, ${one.key || "the file"}: ${one.detail}`).join("; ");
        throw InvalidInput.at("#/kind", `there is no kind '${kind}'${why && `: ${why}`}`);
      }
      return kept(opened, kind, () => openSheet(data.sheets[kind]));
    },
  };
}
