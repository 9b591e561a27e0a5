/**
 * THE place for units in the client: exact factors, reading what people type, printing.
 * Mirrors spares/units.py; a test holds the two catalogues to each other.
 */

import { UnknownUnit } from "./errors.js";
import { Fraction, ZERO } from "./fraction.js";

const INCH = Fraction.of("25.4");      // [mm]
export const INCH_MM = INCH;
const POUND = Fraction.of("0.45359237");       // [kg]
const GRAVITY = Fraction.of("9.80665");        // [m/s²]
const US_GALLON = INCH.times(INCH).times(INCH).times(231n).over(1000000n);      // [L]
const PSI = POUND.times(GRAVITY).times(10n).over(INCH).over(INCH);      // [bar]
const FOOT = INCH.times(12n);
const part = (top, bottom) => new Fraction(BigInt(top), BigInt(bottom));

// kind: {symbol: [factor to the first unit of the kind, other spellings]}
const CATALOGUE = {
  length: { mm: [1, "millimetre millimetres millimeter millimeters"], cm: [10, ""],
    m: [1000, "metre metres meter meters"], km: [1000000, ""],
    in: [INCH, "inch inches \" ″ ” '' in."], ft: [FOOT, "foot feet ' ′"],
    "µm": ["0.001", "um μm micron microns"], nm: [1852000, "nmi M"], thou: [INCH.over(1000n), "mil"] },
  area: { "mm²": [1, "mm2 mm^2 sqmm"], "cm²": [100, "cm2 cm^2"] },
  flow: { "L/min": [1, "lpm l/minute"], "L/h": [part(1, 60), "l/hr"], "L/s": [60, ""],
    "m³/h": [part(1000, 60), "m3/h m^3/h"], "US gal/min": [US_GALLON, "gpm usgpm gal/min"],
    "imp gal/min": ["4.54609", "igpm"] },
  pressure: { bar: [1, "bars"], mbar: ["0.001", ""], kPa: ["0.01", ""], Pa: ["0.00001", ""],
    psi: [PSI, "lbf/in2 psig"], atm: ["1.01325", ""] },
  stress: { MPa: [1, "N/mm2 N/mm²"], GPa: [1000, ""], ksi: [PSI.times(100n), ""] },
  temperature: { "°C": [1, "C degC celsius"], "°F": [part(5, 9), "F degF fahrenheit"] },
  rise: { K: [1, "kelvin"] },
  speed: { "1/min": [1, "rpm r/min min-1 min^-1 rev/min /min"], "1/s": [60, "Hz"] },
  mass: { kg: [1, "kilo kilos"], g: ["0.001", "gram grams"], t: [1000, ""], lb: [POUND, "lbs"],
    oz: [POUND.over(16n), ""] },
  volume: { L: [1, "litre litres liter liters ltr"], mL: ["0.001", ""], cL: ["0.01", ""],
    "m³": [1000, "m3 m^3"], "US gal": [US_GALLON, "gal gallon gallons"], "imp gal": ["4.54609", ""] },
  current: { A: [1, "amp amps ampere amperes"], mA: ["0.001", ""], kA: [1000, ""] },
  charge: { Ah: [1, "A·h"] },
  voltage: { V: [1, "volt volts vdc vac"], mV: ["0.001", ""], kV: [1000, ""] },
  power: { kW: [1, ""], W: ["0.001", "watt watts"],
    hp: [FOOT.times(550n).times(POUND).times(GRAVITY).over(1000000n), "bhp"],
    PS: [GRAVITY.times(75n).over(1000n), ""] },
  energy: { kWh: [1, "kW·h"], Wh: ["0.001", "W·h"] },
  time: { h: [1, "hour hours hr hrs"], min: [part(1, 60), "minute minutes"],
    s: [part(1, 3600), "sec second seconds"], d: [24, "day days"] },
  age: { years: [1, "year y yr yrs a"], months: [part(1, 12), "month"] },
  angle: { "°": [1, "deg degree degrees"] },
  velocity: { "m/s": [1, ""], kn: [part(1852, 3600), "knot knots"],
    "ft/min": [FOOT.over(60000n), "fpm"] },
  force: { kN: [1, ""], N: ["0.001", ""], lbf: [POUND.times(GRAVITY).over(1000n), ""] },
  torque: { "N·m": [1, "Nm N.m newton-metre"],
    "lbf·ft": [POUND.times(GRAVITY).times(FOOT).over(1000n), "lbf.ft ft-lb ftlb"] },
  ratio: { "%": [1, "percent"] },
  number: { 1: [1, "pcs pc"] },
};
const OFFSETS = { "°F": part(-160, 9) };      // °C = °F × 5/9 − 160/9

const FRACTIONS = { "½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8",
  "⅞": "7/8", "⅓": "1/3", "⅔": "2/3" };
const LONGEST = 80;      // characters; nobody types more for one quantity
const NUMBER = new RegExp(
  "^(?:(?<sign>[+\\-−]?)\\s*(?:(?<whole>\\d+)(?:\\s+|\\s*-\\s*))?(?<over>\\d+)\\s*/\\s*(?<under>\\d+)"
  + "|(?<plain>[+\\-−]?\\s*(?:\\d+(?:[.,]\\d*)?|[.,]\\d+)(?:[eE][+\\-]?\\d{1,2}(?!\\d))?))");

const EXACT = new Map();
const LOOSE = new Map();
for (const [kind, members] of Object.entries(CATALOGUE)) {
  for (const [symbol, [factor, others]] of Object.entries(members)) {
    const unit = { symbol, kind, factor: Fraction.of(factor), offset: OFFSETS[symbol] ?? ZERO };
    for (const name of [symbol, ...others.split(/\s+/).filter(Boolean)]) {
      EXACT.set(name, unit);
      if (!LOOSE.has(name.toLowerCase())) LOOSE.set(name.toLowerCase(), unit);
    }
  }
}

/** Give every spelling with its unit, as a test compares it: [name, symbol, kind, factor, offset]. */
export const catalogue = () => [...EXACT].map(([name, unit]) => [name, unit.symbol, unit.kind,
  ...[unit.factor, unit.offset].map(({ top, bottom }) => `${top}/${bottom}`)]);

const words = (text) => String(text).trim().split(/\s+/).filter(Boolean);

/** Find a unit by its symbol or another usual spelling: {symbol, kind, factor, offset}. */
export function unitNamed(name) {
  const key = words(name).join(" ");
  const low = key.toLowerCase();
  const unit = EXACT.get(key) ?? LOOSE.get(low) ?? LOOSE.get(low.replace(/\.+$/, ""));
  if (!unit) throw new UnknownUnit(`there is no unit '${name}' here`);
  return unit;
}

/** Read a number (or number text, point or comma) without loss. */
export function exact(number) {
  if (number instanceof Fraction) return number;
  if (typeof number === "string") {
    const { size, rest } = readNumber(number);
    if (rest) throw new UnknownUnit(`'${number}' is not a number`);
    return size;
  }
  if (typeof number !== "number") throw new UnknownUnit(`${number} is not a number`);
  if (!Number.isFinite(number)) throw new UnknownUnit(`${number} is not a finite number`);
  return Fraction.of(number);
}

/** Read a quantity as people type it (`5/16 in`, `1,5 mm`, `½"`): {amount, unit}. */
export function parseQuantity(text, default_unit) {
  const wanted = unitNamed(default_unit);
  const { size, rest } = readNumber(text);
  const unit = rest ? unitNamed(rest) : wanted;
  if (unit.kind !== wanted.kind) {
    throw new UnknownUnit(`'${text}' is a ${unit.kind}, a ${wanted.kind} is asked`);
  }
  return { amount: size, unit: unit.symbol };
}

/** Give a quantity in another unit of its kind, exactly. */
export function convert(quantity, to_unit) {
  const [have, want] = alike(quantity.unit, to_unit);
  const first = quantity.amount.times(have.factor).plus(have.offset);
  return { amount: first.minus(want.offset).over(want.factor), unit: want.symbol };
}

/** Convert a difference (a tolerance, an uncertainty), which has no zero point. */
export function convertStep(amount, unit, to_unit) {
  const [have, want] = alike(unit, to_unit);
  return amount.times(have.factor).over(want.factor);
}

function alike(unit, to_unit) {
  const [have, want] = [unitNamed(unit), unitNamed(to_unit)];
  if (have.kind !== want.kind) {
    throw new UnknownUnit(`${unit} is a ${have.kind}, ${to_unit} is a ${want.kind}`);
  }
  return [have, want];
}

/** Print a number with a point, rounded half away from zero. */
export function formatNumber(number, most_digits = 3, least_digits = 0) {
  const value = exact(number);
  const { top, bottom } = value.abs();
  const whole = (2n * top * 10n ** BigInt(most_digits) + bottom) / (2n * bottom);
  const sign = value.top < 0n && whole ? "-" : "";
  const digits = String(whole).padStart(most_digits + 1, "0");
  const cut = digits.length - most_digits;
  const tail = digits.slice(cut).replace(/0+$/, "").padEnd(least_digits, "0");
  return sign + digits.slice(0, cut) + (tail ? `.${tail}` : "");
}

/** A unit as a person reads it: turns are turns, as on a counter. */
export const shownUnit = (unit) => (unit === "1/min" ? "r/min" : unit);

/** Print a quantity with its unit; lengths keep one digit after the point. */
export function formatQuantity({ amount, unit }) {
  const number = formatNumber(amount, 3, unit === "mm" ? 1 : 0);
  return unit === "1" ? number : `${number} ${shownUnit(unit)}`;
}

function readNumber(text) {
  let spelt = String(text).trim();
  if (spelt.length > LONGEST) {
    throw new UnknownUnit(`'${spelt.slice(0, 20)}'... is too long for a quantity`);
  }
  for (const [glyph, fraction] of Object.entries(FRACTIONS)) {
    spelt = spelt.replaceAll(glyph, ` ${fraction}`);
  }
  spelt = spelt.trim();
  const found = NUMBER.exec(spelt)?.groups;
  if (!found) throw new UnknownUnit(`'${text}' does not begin with a number`);
  const rest = spelt.slice(NUMBER.exec(spelt)[0].length).trim();
  if (found.plain) {
    const plain = found.plain.replaceAll(" ", "").replaceAll("−", "-").replaceAll(",", ".");
    return { size: Fraction.of(plain), rest };
  }
  if (BigInt(found.under) === 0n) throw new UnknownUnit(`'${text}' divides by nothing`);
  const size = Fraction.of(BigInt(found.whole ?? 0))
    .plus(new Fraction(BigInt(found.over), BigInt(found.under)));
  return { size: ["-", "−"].includes(found.sign) ? size.negated() : size, rest };
}
