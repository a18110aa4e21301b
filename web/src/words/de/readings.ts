import type { readings as en } from "../en/readings.ts";

export const readings: Record<keyof typeof en, string> = {};
