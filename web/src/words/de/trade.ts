import words from "../../../../data/words/de/trade.json";
import type { trade as en } from "../en/trade.ts";

export const trade: Record<keyof typeof en, string> = words;
