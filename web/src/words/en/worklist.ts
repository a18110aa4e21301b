export const worklist = {} as const;
