// What hands and gauges do in the readings view.
import type { Page } from "playwright-core";
import { until } from "./harness.ts";

/** As a gauge types: digits, Enter, nothing else. Needs the field to have the keyboard by itself. */
export async function gauge(page: Page, value: string): Promise<void> {
  await until("a field for the gauge has the keyboard", () =>
    page.evaluate(() => document.activeElement instanceof HTMLInputElement && document.activeElement.closest(".number-field") !== null),
  );
  await page.keyboard.type(value);
  await page.keyboard.press("Enter");
}

/** Number of entries the page says are kept here and not yet on the piano's machine. */
export async function waiting(page: Page): Promise<number> {
  const kind = await page.locator(".shell-link").first().getAttribute("class");
  if (!kind?.includes("shell-link-waiting")) return kind?.includes("shell-link-live") ? 0 : -1;
  return Number(/\d+/.exec((await page.locator(".shell-link").first().textContent()) ?? "")?.[0] ?? -1);
}

/** The page says that everything is on the piano's machine. */
export async function allSaved(page: Page): Promise<void> {
  await until("everything is said to be saved", async () => (await waiting(page)) === 0, 40_000);
}
