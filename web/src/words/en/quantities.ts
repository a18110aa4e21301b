export const quantities = {
  "unit.turn": "turn",
  "unit.turns": "turns",
  "unit.grade_of": "grade {value}",
  "unit.steps.one": "{value} step",
  "unit.steps.other": "{value} steps",
  "typed.empty": "Nothing was typed.",
  "typed.number": "“{text}” holds no number. Type one such as {example}.",
  "typed.ambiguous": "“{text}” could be thousands or a decimal. Type one such as {example}.",
  "typed.mark": "“{text}” has a decimal mark too many or no digit behind it. Type one such as {example}.",
  "typed.fraction": "“{text}” has a fraction that cannot be read. Type one such as 1 3/4.",
  "typed.many": "“{text}” holds more than one number. Type one.",
  "typed.unit": "“{text}” has a unit of another kind. Type {unit}, or the number alone.",
} as const;
