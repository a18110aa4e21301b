export const handover = {} as const;
