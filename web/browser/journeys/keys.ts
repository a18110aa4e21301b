// Every view by keyboard only, and what a page-turn pedal does in each.
import { tabThrough } from "../audit.ts";
import { equal, expect, journey } from "../harness.ts";
import { everyView, firstPiano, ofPiano, open } from "../views.ts";

await journey("keys", async (it) => {
  const server = await it.server("demo");
  const piano = await firstPiano(server.url);
  const page = await it.page();
  for (const view of everyView) {
    await it.step(`${view} by Tab`, async () => {
      await open(page, server.url, piano, view, view === "note" ? "C4" : "");
      const stops = await tabThrough(page, view);
      expect(stops > 2, `${view} has hardly anything to reach by Tab`);
    });
  }
  for (const view of ofPiano) {
    if (view === "hands") continue;
    await it.step(`${view} by pedal`, async () => {
      await open(page, server.url, piano, view, view === "note" ? "C4" : "");
      const before = (await server.history()).length;
      for (const key of ["PageDown", "PageDown", "PageUp"]) {
        await page.keyboard.press(key);
        await page.waitForTimeout(150);
      }
      expect(page.url().includes(`/${view}`), `${view}: the pedal led to ${page.url()}`);
      equal((await server.history()).length, before, `Entries after a pedal in ${view}`);
    });
  }
});
