/** A state as it is shown: the word and the shape carry the meaning, the colour role is only the third sign. */

export const sign = (word, shape, role) => ({ word, shape, role });
