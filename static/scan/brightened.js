/**
 * A picture taken by night, made readable: each square of four pixels becomes one, which halves the
 * grain, and what there is of light is spread over the whole scale.
 */

const DARK_BELOW = 100;         // of 255, of all but the brightest hundredth
const LEAVE_OUT = 0.01;         // at either end: single hot and dead pixels

/** Give the level below which a share of all pixels lies. */
function levelAt(counts, share, total) {
  let below = 0;
  for (let level = 0; level < counts.length; level += 1) {
    below += counts[level];
    if (below > share * total) return level;
  }
  return counts.length - 1;
}

/** Give {width, height, grey} of half the size, from RGBA. */
function halved({ width, height, data }) {
  const [w, h] = [width >> 1, height >> 1];
  const grey = new Uint8Array(w * h);
  for (let y = 0; y < h; y += 1) {
    for (let x = 0; x < w; x += 1) {
      const at = (2 * y * width + 2 * x) * 4 + 1;         // green carries most of the light
      const down = at + width * 4;
      grey[y * w + x] = (data[at] + data[at + 4] + data[down] + data[down + 4]) >> 2;
    }
  }
  return { width: w, height: h, grey };
}

/** Give an ImageData, or null for a picture that is bright enough as it is. */
export function brightened(pixels) {
  const { width, height, grey } = halved(pixels);
  const counts = new Uint32Array(256);
  for (const level of grey) counts[level] += 1;
  const [low, high] = [LEAVE_OUT, 1 - LEAVE_OUT].map((share) => levelAt(counts, share, grey.length));
  if (high >= DARK_BELOW || high <= low) return null;
  const spread = Uint32Array.from({ length: 256 }, (_, level) => {
    const shown = Math.max(0, Math.min(255, Math.round(((level - low) * 255) / (high - low))));
    return ((255 << 24) | (shown << 16) | (shown << 8) | shown) >>> 0;
  });
  const dots = new Uint32Array(width * height);
  for (let at = 0; at < grey.length; at += 1) dots[at] = spread[grey[at]];
  return new ImageData(new Uint8ClampedArray(dots.buffer), width, height);
}
