/** Words about photos. */

export const PHOTO = {
  title: "Photos",
  none: "No photo yet.",
  take: "Take a photo",
  choose: "Choose a picture",
  note: "What is to be seen",
  working: "Making it small …",
  of: (name) => `Photo of ${name}`,
  alt: (name, note, when) => [`${name}`, note, when].filter(Boolean).join(", "),
  large: (alt) => `Show large: ${alt}`,
  small: "Make it small again",
  show: "Show photo",
  waits: "Still on this phone",
  refused: "The boat's computer does not take it",
  again: "Send it again",
  elsewhere: "Not here yet: still on the phone that took it.",
  not_kept: "Not on this phone. It is shown when the boat's computer answers.",
  remove: "Remove photo",
  remove_asked: "Remove this photo for good?",
  removed: (name) => `Removed a photo of ${name}`,
};
