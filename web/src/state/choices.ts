// What this browser's user prefers; kept in this browser.
import { computed, effect, signal, type Signal } from "@preact/signals";

function kept<T extends string>(name: string, allowed: readonly T[], first: T): Signal<T> {
  let value = first;
  try {
    const found = localStorage.getItem(`batten.${name}`);
    if (allowed.includes(found as T)) value = found as T;
  } catch {
    // No storage: the choice lasts as long as the page.
  }
  const choice = signal(value);
  effect(() => {
    try {
      localStorage.setItem(`batten.${name}`, choice.value);
    } catch {
      // As above.
    }
  });
  return choice;
}

const ofBrowser = typeof navigator !== "undefined" && navigator.language?.toLowerCase().startsWith("de") ? "de" : "en";

export const unit = kept("unit", ["mm", "in"] as const, "mm");
export const language = kept("language", ["en", "de"] as const, ofBrowser);
export const theme = kept("theme", ["system", "light", "dark"] as const, "system");

/** How dates and times are said, whatever the browser's own habits: the day before the month, 24 hours. */
export const datesAs = computed(() => (language.value === "de" ? "de-DE" : "en-GB"));
