/** Ord om fotos. */

export const PHOTO = {
  title: "Fotos",
  none: "Intet foto endnu.",
  take: "Tag et foto",
  choose: "Vælg et billede",
  note: "Hvad der ses",
  working: "Gør det mindre …",
  of: (name) => `Foto af ${name}`,
  alt: (name, note, when) => [`${name}`, note, when].filter(Boolean).join(", "),
  large: (alt) => `Vis stort: ${alt}`,
  small: "Gør det lille igen",
  show: "Vis foto",
  waits: "Endnu kun på denne telefon",
  refused: "Bådens computer tager det ikke",
  again: "Send det igen",
  elsewhere: "Ikke her endnu: stadig på den telefon, der tog det.",
  not_kept: "Ikke på denne telefon. Det vises, når bådens computer svarer.",
  remove: "Fjern foto",
  remove_asked: "Fjerne dette foto for altid?",
  removed: (name) => `Fjernede et foto af ${name}`,
};
