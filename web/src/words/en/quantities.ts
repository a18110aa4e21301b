export const quantities = {
  "unit.turn": "turn",
  "unit.turns": "turns",
  "unit.grade_of": "grade {value}",
  "unit.steps.one": "{value} step",
  "unit.steps.other": "{value} steps",
  "typed.empty": "Nothing was typed.",
  "typed.number": "“{text}” holds no number. Type one such as {example}.",
  "typed.unit": "“{text}” has a unit of another kind. Type {unit}, or the number alone.",
} as const;
