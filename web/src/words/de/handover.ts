import type { handover as en } from "../en/handover.ts";

export const handover: Record<keyof typeof en, string> = {
  "handover.show": "Zeigen und drucken",
  "handover.owner": "Seite für die Eigentümer",
  "handover.file": "Blatt für die Akte",
  "handover.pdf": "Beides als PDF",
  "handover.print": "Drucken, was hier steht",
  "handover.letterhead": "Briefkopf und Papier",
  "handover.wait": "Wird zusammengestellt …",
  "handover.words": "An die Eigentümer",
  "handover.words_hint": "Ihre eigenen Worte, über allem anderen auf der Seite. Steht mit diesem Besuch im Journal.",
  "handover.next": "Nächster Besuch",
  "handover.next_hint": "Ihre eigenen Worte: wann, und was zuerst anzusehen ist. Steht mit diesem Besuch im Journal.",
  "handover.save": "Sichern: {what}",
  "handover.moves.one": "{count} Handgriff",
  "handover.moves.other": "{count} Handgriffe",
  "handover.on_notes.one": "an {count} Ton",
  "handover.on_notes.other": "an {count} Tönen",
};
