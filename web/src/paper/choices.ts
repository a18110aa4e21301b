// How a page is to be: its language, its paper, its lengths. As the workshop has it until chosen otherwise here.
import { computed, signal } from "@preact/signals";
import { language, unit } from "../state/choices.ts";
import { shopSetting } from "../state/shop.ts";

export type PageLanguage = "en" | "de";
export type PaperSize = "a4" | "letter";

export const chosenLanguage = signal<PageLanguage | null>(null);
export const chosenPaper = signal<PaperSize | null>(null);
export const chosenUnit = signal<"mm" | "in" | null>(null);

function one<T extends string>(said: string | null, allowed: readonly T[]): T | null {
  return allowed.find((value) => value === said?.toLowerCase()) ?? null;
}

export const pageLanguage = computed(() => chosenLanguage.value ?? one(shopSetting("language"), ["en", "de"] as const) ?? language.value);
export const paperSize = computed(() => chosenPaper.value ?? one(shopSetting("paper"), ["a4", "letter"] as const) ?? "a4");
export const pageUnit = computed(() => chosenUnit.value ?? one(shopSetting("unit"), ["mm", "in"] as const) ?? unit.value);

/** "language=de&paper=a4&inches=0", as every page's address takes it. */
export function asAsked(more: Record<string, string> = {}, paper = true): string {
  const asked = new URLSearchParams({ language: pageLanguage.value });
  if (paper) asked.set("paper", paperSize.value);
  asked.set("inches", pageUnit.value === "in" ? "1" : "0");
  for (const [name, value] of Object.entries(more)) asked.set(name, value);
  return asked.toString();
}
