import type { strip as en } from "../en/strip.ts";

export const strip: Record<keyof typeof en, string> = {};
