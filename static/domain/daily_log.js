/** The daily run as it was, beside the plan. Mirrors spares/domain/daily_log.py. */

const NEAR_SHARE = 0.1;

const isNo = (value) => value === null || value === undefined;
const rounded = (value) => Number(value.toFixed(6));
const sum = (values) => values.reduce((all, one) => all + one, 0);
const mean = (values) => {
  const told = values.filter((one) => !isNo(one));
  return told.length ? rounded(sum(told) / told.length) : null;
};

/** Give the mean of recorded days, each figure over the days that say it. */
export function meanOf(days) {
  const both = days.filter((one) => one.minutes && !isNo(one.litres));
  const hours = sum(both.map((one) => one.minutes)) / 60;
  return { days: days.length, hours_per_day: mean(days.map((one) => (isNo(one.minutes) ? null : one.minutes / 60))),
    litres_per_day: mean(days.map((one) => one.litres)),
    litres_per_hour: hours ? rounded(sum(both.map((one) => one.litres)) / hours) : null,
    charge_ah_per_day: mean(days.map((one) => one.charge_ah)), amps: mean(days.map((one) => one.amps)) };
}

/** Say how a real figure stands to the planned one. */
export function beside(real, planned) {
  if (isNo(real) || !planned) return "cannot-say";
  if (Math.abs(real - planned) <= NEAR_SHARE * planned) return "as-planned";
  return real > planned ? "more" : "less";
}
