// Inches: no millimetres are left where a length is shown, and heights and blow are fractions.
import { expect, journey } from "../harness.ts";
import { firstPiano, ofPiano, open } from "../views.ts";

await journey("inches", async (it) => {
  const server = await it.server("demo");
  const piano = await firstPiano(server.url);
  const page = await it.page({ inches: true });
  const seen: string[] = [];
  for (const view of ofPiano) {
    // What is typed and filed is shown as it was typed there.
    if (view === "settings") continue;
    await it.step(view, async () => {
      await open(page, server.url, piano, view, view === "note" ? "C4" : "");
      const texts = await page.evaluate(() => {
        const list: string[] = [];
        const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
        for (let node = walk.nextNode(); node; node = walk.nextNode())
          if (!node.parentElement?.closest("[lang], script, style") || node.parentElement.closest("[lang]") === document.documentElement)
            list.push((node.textContent ?? "").trim());
        return list;
      });
      const metric = texts.filter((text) => /\d[\u202f\s]?mm\b/.test(text));
      expect(metric.length === 0, `Millimetres in ${view}: ${metric.slice(0, 6).join(" | ")}`);
      seen.push(...texts);
    });
  }
  expect(seen.some((text) => /\d+[\u202f]\d+\u2044\d+″|[½¼¾⅛⅜⅝⅞]″/.test(text)), "No fraction of an inch was seen on any view.");
});
