/** Today as the boat's computer counts it, else as this phone does. */

/** @param {{today?: string}|null} summary the answer of `summary` */
export function today(summary) {
  if (summary?.today) return summary.today;
  const now = new Date();
  const two = (number) => String(number).padStart(2, "0");
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}
