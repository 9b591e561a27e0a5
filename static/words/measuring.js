/** Words of the measuring sheet. */

export const MEASURE = {
  show_drawing: (title) => `Drawing: ${title}`,
  close_drawing: "Close the drawing",
  compare: "Compare two parts side by side",
  only_first: "Only the first",
  first: "First part",
  second: "Second part",
  in_hand: "In the hand, measured here",
  which: (name) => `${name}: which one?`,
  print: "Print an empty sheet",
  recorded: (text) => `recorded: ${text}`,
  more_of: (name) => `More about the ${name.toLowerCase()}`,
};
