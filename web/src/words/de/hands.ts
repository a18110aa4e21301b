import type { hands as en } from "../en/hands.ts";

export const hands: Record<keyof typeof en, string> = {};
