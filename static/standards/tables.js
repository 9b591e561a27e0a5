/** Published tables as they lie in the data that the server gives. Mirrors spares/standards. */

import { UnknownTable } from "../domain/errors.js";

/** One published table: rows as objects from column to value. Frozen: all askers share it. */
export class Table {
  constructor({ id, title, source, columns, rows }) {
    this.id = id;
    this.title = title;
    this.source = source;
    this.records = rows.map((row) => Object.freeze(
      Object.fromEntries(columns.map(({ name }, n) => [name, row[n]]))));
  }

  /** Give every row whose columns hold what is wanted. */
  findAll(wanted) {
    const pairs = Object.entries(wanted);
    return this.records.filter((row) => pairs.every(([name, value]) => row[name] === value));
  }

  /** Give the first row whose columns hold what is wanted, or null. */
  find(wanted) {
    return this.findAll(wanted)[0] ?? null;
  }

  /** Tell whether nobody looked these values up. */
  get remembered() {
    return this.source.known_by === "memory";
  }
}

/** Give a function from the name of a table to the table. */
export function openTables(given) {
  const tables = new Map();
  return (id) => {
    if (!Object.hasOwn(given, id)) throw new UnknownTable(`there is no table '${id}'`);
    if (!tables.has(id)) tables.set(id, new Table(given[id]));
    return tables.get(id);
  };
}
