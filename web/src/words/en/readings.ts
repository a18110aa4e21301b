export const readings = {} as const;
