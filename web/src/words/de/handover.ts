import type { handover as en } from "../en/handover.ts";

export const handover: Record<keyof typeof en, string> = {};
