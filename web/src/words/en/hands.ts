export const hands = {} as const;
