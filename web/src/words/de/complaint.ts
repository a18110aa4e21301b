import type { complaint as en } from "../en/complaint.ts";

export const complaint: Record<keyof typeof en, string> = {};
