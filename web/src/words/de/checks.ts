import words from "../../../../data/words/de/checks.json";
import type { checks as en } from "../en/checks.ts";

export const checks: Record<keyof typeof en, string> = words;
