/**
 * Numbers under retail barcodes: EAN-13, EAN-8, UPC-A and UPC-E (GS1 General Specifications, check
 * digit modulo 10). One number has one written form here, so that it is found however it was read.
 */

const RETAIL = /^(\d{8}|\d{12}|\d{13})$/;
const ODD_WEIGHT = 3;

/** Give the check digit of the digits before it: weights 3 and 1, from the right. */
export function checkDigit(digits) {
  const sum = [...digits].reverse()
    .reduce((total, digit, place) => total + Number(digit) * (place % 2 ? 1 : ODD_WEIGHT), 0);
  return String((10 - (sum % 10)) % 10);
}

/** Give the UPC-A of a UPC-E (number system, six digits, check digit), or null. */
export function expanded(short) {
  const match = /^([01])(\d{5})(\d)(\d)$/.exec(short);
  if (!match) return null;
  const [, system, five, last, check] = match;
  const end = Number(last);
  const body = end <= 2 ? `${five.slice(0, 2)}${last}0000${five.slice(2)}`
    : end === 3 ? `${five.slice(0, 3)}00000${five.slice(3)}`
      : end === 4 ? `${five.slice(0, 4)}00000${five[4]}` : `${five}0000${last}`;
  return checkDigit(system + body) === check ? `${system}${body}${check}` : null;
}

/**
 * Bring what was read to its one form: 8 digits (EAN-8), 12 (UPC-A) or 13 (EAN-13); null if the
 * check digit does not agree. Thirteen digits that begin with 0 are printed as the twelve of a UPC-A.
 * @param {string} text the digits
 * @param {boolean} isShort whether eight digits are a UPC-E
 */
export function retailNumber(text, isShort = false) {
  const digits = text.replace(/[\s-]/g, "");
  if (isShort) return expanded(digits);
  if (!RETAIL.test(digits) || checkDigit(digits.slice(0, -1)) !== digits.at(-1)) return null;
  return digits.length === 13 && digits[0] === "0" ? digits.slice(1) : digits;
}
