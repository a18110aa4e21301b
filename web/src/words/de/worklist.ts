import type { worklist as en } from "../en/worklist.ts";

export const worklist: Record<keyof typeof en, string> = {};
