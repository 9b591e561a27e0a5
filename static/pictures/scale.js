/** Scales of pictures: values to places on paper, and round numbers to write beside them. */

/** Give a function from a value between `low` and `high` to a place between `from` and `to` [px]. */
export function linear(low, high, from, to) {
  const span = high - low || 1;
  return (value) => from + ((value - low) / span) * (to - from);
}

/** Give about `count` round numbers between two values, both ends included where they are round. */
export function roundTicks(low, high, count = 4) {
  if (!(high > low)) return [low];
  const rough = (high - low) / count;
  const power = 10 ** Math.floor(Math.log10(rough));
  const step = [1, 2, 5, 10].map((one) => one * power).find((one) => one >= rough * 0.999);
  const first = Math.ceil(low / step - 1e-9);
  const last = Math.floor(high / step + 1e-9);
  return Array.from({ length: Math.max(0, last - first + 1) }, (_, at) => round((first + at) * step));
}

/** Cut a number so that a drawing does not carry fifteen digits. */
export function round(value) {
  return Math.round(value * 1e6) / 1e6;
}

/** Write a path through points [x, y]. */
export function pathThrough(points) {
  return points.map(([x, y], at) => `${at ? "L" : "M"}${x.toFixed(1)} ${y.toFixed(1)}`).join(" ");
}

/** Cut a text to so many characters; the whole stands in the table and in the tip. */
export function cut(text, most) {
  return text.length > most ? `${text.slice(0, Math.max(1, Math.floor(most) - 1)).trimEnd()}…` : text;
}
