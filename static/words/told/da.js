/** Hvad programmets egne tabeller og regler siger på engelsk. */

export * from "./da-fit.js";
export * from "./da-log.js";
export * from "./da-plans.js";
export * from "./da-problems.js";
export * from "./da-tables.js";
