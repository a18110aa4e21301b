import type { pianos as en } from "../en/pianos.ts";

export const pianos: Record<keyof typeof en, string> = {};
