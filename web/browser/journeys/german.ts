// German throughout: no sentence of the English words is left on any view.
import { de } from "../../src/words/de/index.ts";
import { en } from "../../src/words/en/index.ts";
import { equal, expect, journey, until } from "../harness.ts";
import { everyView, firstPiano, open } from "../views.ts";

// Texts that are one thing in English and nothing in German; short ones may be part of a name.
const german = new Set<string>(Object.values(de));
const english = new Set<string>(Object.values(en).filter((text) => text.length > 4 && !german.has(text) && !text.includes("{")));

await journey("german", async (it) => {
  const server = await it.server("demo");
  const piano = await firstPiano(server.url);
  const page = await it.page({ language: "de", size: "tablet" });
  for (const view of everyView) {
    await it.step(view, async () => {
      await open(page, server.url, piano, view, view === "note" ? "C4" : "");
      equal(await page.evaluate(() => document.documentElement.lang), "de", "language of the page");
      const texts = await page.evaluate(() => {
        const list: string[] = [];
        const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
        for (let node = walk.nextNode(); node; node = walk.nextNode()) {
          const parent = node.parentElement;
          if (parent?.closest("[lang=en], script, style")) continue;
          const text = (node.textContent ?? "").trim();
          if (text) list.push(text);
        }
        for (const element of document.querySelectorAll("[aria-label], [title], [placeholder]")) {
          if (element.closest("[lang=en]")) continue;
          for (const name of ["aria-label", "title", "placeholder"]) list.push((element.getAttribute(name) ?? "").trim());
        }
        return list;
      });
      const left = texts.filter((text) => english.has(text));
      expect(left.length === 0, `English in ${view}: ${[...new Set(left)].slice(0, 10).join(" | ")}`);
      // Settings are shown to the letter, as they were typed.
      if (view === "settings" || view === "shop") return;
      const points = texts.filter((text) => /\d\.\d+\s?(mm|gf|%)/.test(text));
      expect(points.length === 0, `Decimal points in ${view}: ${points.slice(0, 5).join(" | ")}`);
    });
  }
  await it.step("chosen by hand, and kept", async () => {
    const other = await it.page();
    await open(other, server.url, piano, "settings");
    await other.evaluate(() => localStorage.setItem("batten.language", "de"));
    await other.reload();
    // The language is a file of its own, fetched first.
    await until("the page is German after a reload", async () => (await other.evaluate(() => document.documentElement.lang)) === "de");
  });
});
