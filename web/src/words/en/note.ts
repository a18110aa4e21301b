export const note = {} as const;
