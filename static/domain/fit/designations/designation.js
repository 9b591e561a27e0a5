/** What a code that was read stands for. */

/**
 * `series` is set where codes of several standards stand for like sizes; `asks_also` names
 * attributes that the code decides without giving them; `rests_on` tables nobody looked up,
 * `rests_on_by` those behind one attribute alone.
 */
export const designation = (text, attributes, more = {}) => ({ text, attributes, series: "",
  asks_also: [], rests_on: [], rests_on_by: {}, ...more });

/** Write a code in capitals with single spaces. */
export const capitals = (text) => text.toUpperCase().trim().split(/\s+/).join(" ");
