export const settings = {
  "settings.gate.shut": "The preparation is not finished.",
  "settings.gate.why": "A line set on loose screws or dragging keys does not last. You can read already; moves are planned once every item is in order or knowingly left.",
  "settings.gate.go": "To the preparation",
} as const;
