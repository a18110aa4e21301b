// Going to the views of a piano and waiting until they show it.
import type { Page } from "playwright-core";
import { until } from "./harness.ts";

export const ofPiano = ["readings", "brief", "worklist", "hands", "note", "complaint", "handover", "overtime", "settings"] as const;
export type View = (typeof ofPiano)[number];
/** Those of no piano first. */
export const everyView = ["pianos", "shop", ...ofPiano] as const;
export type AnyView = (typeof everyView)[number];
const apart = { pianos: "#/", shop: "#/shop" } as const;

export async function firstPiano(url: string): Promise<string> {
  const answer = (await (await fetch(`${url}/api/pianos`)).json()) as { pianos: { id: string }[] };
  return answer.pianos[0]?.id ?? "";
}

/** Opens the view and waits until it has drawn what it fetched. */
export async function open(page: Page, url: string, piano: string, view: AnyView, note = ""): Promise<void> {
  const hash = view === "pianos" || view === "shop" ? apart[view] : `#/p/${piano}/${view}${note ? `/${note}` : ""}`;
  if (page.url().startsWith(url)) await page.evaluate((to) => (location.hash = to), hash);
  else await page.goto(`${url}/${hash}`);
  await settled(page, view === "pianos" || view === "shop" ? undefined : view);
}

/** The view says something, nothing says it is still at work, and the strip is drawn where there is one. */
export async function settled(page: Page, view?: View): Promise<void> {
  await until(
    `${view ?? "the view"} is drawn`,
    () =>
      page.evaluate((ofPiano) => {
        const main = document.querySelector("main");
        if (!main || (main.textContent ?? "").trim().length < 20) return false;
        if (main.querySelector("[aria-busy=true]")) return false;
        return !ofPiano || document.querySelector(".strip-drawing") !== null;
      }, view !== undefined),
    30_000,
  );
  // Answers that come in after the first: the text has stood still for a while.
  let last = "";
  let since = Date.now();
  await until("the view stands still", async () => {
    const text = await page.evaluate(() => document.body.innerText);
    if (text !== last) [last, since] = [text, Date.now()];
    // The brief answers register by register.
    return Date.now() - since > (view === "brief" ? 3_000 : 300);
  });
}
