/** Exact fractions of whole numbers without limit, so that no comparison depends on rounding. */

const DECIMAL = /^([+-]?)(\d*)\.?(\d*)(?:e([+-]?\d+))?$/i;

function divisor(a, b) {
  let [high, low] = [a < 0n ? -a : a, b];
  while (low) [high, low] = [low, high % low];
  return high;
}

/** Divide two whole numbers, rounding towards minus infinity; the divisor is above 0. */
function floorDivide(a, b) {
  const whole = a / b;
  return a % b < 0n ? whole - 1n : whole;
}

/** A fraction in lowest terms; its denominator is above 0. Never changed once made. */
export class Fraction {
  constructor(top, bottom = 1n) {
    if (bottom === 0n) throw new RangeError("a fraction cannot have 0 below");
    const sign = bottom < 0n ? -1n : 1n;
    const shared = divisor(top, bottom * sign) || 1n;
    this.top = (top * sign) / shared;
    this.bottom = (bottom * sign) / shared;
  }

  /** Make one of a whole number, of decimal text such as `25.4`, or of a fraction as it is. */
  static of(value) {
    if (value instanceof Fraction) return value;
    if (typeof value === "bigint") return new Fraction(value);
    const found = DECIMAL.exec(String(value));
    if (!found || !(found[2] || found[3])) throw new RangeError(`${value} is no finite number`);
    const power = BigInt(found[4] ?? 0) - BigInt(found[3].length);
    const digits = BigInt(`${found[2]}${found[3]}`) * (found[1] === "-" ? -1n : 1n);
    return power < 0n ? new Fraction(digits, 10n ** -power) : new Fraction(digits * 10n ** power);
  }

  plus(other) {
    const { top, bottom } = Fraction.of(other);
    return new Fraction(this.top * bottom + top * this.bottom, this.bottom * bottom);
  }

  minus(other) {
    return this.plus(Fraction.of(other).negated());
  }

  times(other) {
    const { top, bottom } = Fraction.of(other);
    return new Fraction(this.top * top, this.bottom * bottom);
  }

  over(other) {
    const { top, bottom } = Fraction.of(other);
    return new Fraction(this.top * bottom, this.bottom * top);
  }

  negated() {
    return new Fraction(-this.top, this.bottom);
  }

  abs() {
    return this.top < 0n ? this.negated() : this;
  }

  /** Give a number below, at or above 0 as this is less than, equal to or more than the other. */
  compare(other) {
    const { top, bottom } = Fraction.of(other);
    const gap = this.top * bottom - top * this.bottom;
    return gap < 0n ? -1 : gap > 0n ? 1 : 0;
  }

  equals(other) { return this.compare(other) === 0; }
  below(other) { return this.compare(other) < 0; }
  above(other) { return this.compare(other) > 0; }
  atMost(other) { return this.compare(other) <= 0; }
  atLeast(other) { return this.compare(other) >= 0; }
  get isZero() { return this.top === 0n; }
  get isWhole() { return this.bottom === 1n; }

  /** Round to so many digits after the point, a tie to the even digit. */
  rounded(digits = 0) {
    const scale = 10n ** BigInt(digits);
    const [twice, even] = [2n * this.bottom, this.top * scale];
    const whole = floorDivide(2n * even + this.bottom, twice);
    const tie = (2n * even + this.bottom) % twice === 0n;
    return new Fraction(tie && whole % 2n !== 0n ? whole - 1n : whole, scale);
  }

  /** Cut off what stands behind the point. */
  truncated() {
    return this.top / this.bottom;
  }

  /** Give the nearest number that the language has. */
  toNumber() {
    return Number(this.top) / Number(this.bottom);
  }
}

export const ZERO = new Fraction(0n);

/** Give the smaller of two fractions. */
export const least = (a, b) => (b.below(a) ? b : a);

/** Give the greater of two fractions. */
export const most = (a, b) => (b.above(a) ? b : a);
