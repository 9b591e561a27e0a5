/**
 * How much to send at once [bytes]: halved where nothing came through, doubled where it did.
 *
 * What has just failed is not tried again after each success, but once in `PATIENCE` of them: over
 * a net that carries little, each try too large costs the whole time that is waited for an answer.
 */
const PATIENCE = 12;

export function makePace(most, least) {
  let [size, failed, passes] = [most, Infinity, 0];
  return {
    size: () => size,
    passed() {
      passes += 1;
      if (passes >= PATIENCE) [failed, passes] = [Infinity, 0];
      if (size * 2 < failed) size = Math.min(size * 2, most);
    },
    failed() {
      [failed, passes] = [size, 0];
      size = Math.max(size / 2, least);
    },
  };
}
