import type { brief as en } from "../en/brief.ts";

export const brief: Record<keyof typeof en, string> = {};
