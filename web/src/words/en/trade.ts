// The trade's own words, by the catalogue's codes.
export const trade = {
  "reading.blow": "blow",
} as const;
