import type { quantities as en } from "../en/quantities.ts";

export const quantities: Record<keyof typeof en, string> = {
  "unit.turn": "Umdrehung",
  "unit.turns": "Umdrehungen",
  "unit.grade_of": "Stufe {value}",
  "unit.steps.one": "{value} Schritt",
  "unit.steps.other": "{value} Schritte",
  "typed.empty": "Es wurde nichts eingegeben.",
  "typed.number": "„{text}“ enthält keine Zahl. Geben Sie etwas ein wie {example}.",
  "typed.ambiguous": "„{text}“ könnte Tausender oder Dezimalen meinen. Geben Sie etwas ein wie {example}.",
  "typed.mark": "„{text}“ hat ein Komma zu viel oder keine Ziffer dahinter. Geben Sie etwas ein wie {example}.",
  "typed.fraction": "„{text}“ hat einen Bruch, der nicht zu lesen ist. Geben Sie etwas ein wie 1 3/4.",
  "typed.many": "„{text}“ enthält mehr als eine Zahl. Geben Sie eine ein.",
  "typed.unit": "„{text}“ hat eine Einheit anderer Art. Geben Sie {unit} ein oder nur die Zahl.",
};
