import type { settings as en } from "../en/settings.ts";

export const settings: Record<keyof typeof en, string> = {};
