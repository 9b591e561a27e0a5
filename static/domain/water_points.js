/** Drain points that a machine's note names. Mirrors spares/domain/lay_up.py. */

const SENTENCE = /\b(drain points?|lay-?up)\s*:\s*(.+?)\s*(?:\.(?=\s|$)|$)/gim;

/** Give {place, treated, how} of each point, in the note's order; `place` is empty for the whole machine. */
export function waterPoints(note) {
  return [...(note ?? "").matchAll(SENTENCE)].flatMap(([, word, words]) => {
    const pieces = words.split(";").map((one) => one.trim()).filter(Boolean);
    if (!word.toLowerCase().startsWith("drain")) return pieces.map((how) => ({ place: "", treated: true, how }));
    return pieces.map((piece) => {
      const at = piece.indexOf(":");
      const [place, how] = at < 0 ? [piece, ""] : [piece.slice(0, at).trim(), piece.slice(at + 1).trim()];
      return { place, treated: how.toLowerCase().includes("not drained"), how };
    });
  });
}
