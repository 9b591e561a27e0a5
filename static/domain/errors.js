/** What the shared rules raise on purpose. Mirrors part of spares/errors.py. */

/** What was given cannot be taken; `errors` lists {pointer, detail}. */
export class InvalidInput extends Error {
  constructor(detail, errors = []) {
    super(detail);
    this.code = "invalid-input";
    this.detail = detail;
    this.errors = errors;
  }

  /** Name one field as a JSON Pointer fragment, such as `#/rows/1/bore`. */
  static at(pointer, detail) {
    return new InvalidInput(`${pointer.replace(/^#\//, "") || "the input"}: ${detail}`,
      [{ pointer, detail }]);
  }
}

/** A unit or a quantity text that nobody can read. */
export class UnknownUnit extends InvalidInput {
  constructor(detail) {
    super(detail);
    this.code = "unknown-unit";
  }
}

/** A standards table that does not exist in the data that the program was given. */
export class UnknownTable extends Error {
  constructor(detail) {
    super(detail);
    this.code = "unknown-table";
    this.detail = detail;
  }
}

/** A change that is not taken; `reason` is the protocol's code, `pointer` the place. */
export class Refused extends Error {
  constructor(detail, reason, pointer = "#/") {
    super(detail);
    this.code = "refused";
    this.detail = detail;
    this.reason = reason;
    this.pointer = pointer;
  }

  /** Name one value of a change as a JSON Pointer fragment. */
  static at(reason, pointer, detail) {
    return new Refused(`${pointer.replace(/^#\//, "") || "the change"}: ${detail}`, reason, pointer);
  }
}
