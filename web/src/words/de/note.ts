import type { note as en } from "../en/note.ts";

export const note: Record<keyof typeof en, string> = {};
