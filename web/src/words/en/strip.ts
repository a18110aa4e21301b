export const strip = {} as const;
