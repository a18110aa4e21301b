export const pianos = {} as const;
