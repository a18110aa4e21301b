export const complaint = {} as const;
