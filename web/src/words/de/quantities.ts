import type { quantities as en } from "../en/quantities.ts";

export const quantities: Record<keyof typeof en, string> = {
  "unit.turn": "Umdrehung",
  "unit.turns": "Umdrehungen",
  "unit.grade_of": "Stufe {value}",
  "unit.steps.one": "{value} Schritt",
  "unit.steps.other": "{value} Schritte",
  "typed.empty": "Es wurde nichts eingegeben.",
  "typed.number": "„{text}“ enthält keine Zahl. Geben Sie etwas ein wie {example}.",
  "typed.unit": "„{text}“ hat eine Einheit anderer Art. Geben Sie {unit} ein oder nur die Zahl.",
};
