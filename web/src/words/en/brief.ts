export const brief = {} as const;
