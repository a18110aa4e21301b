// Pictures of every view of the demo piano for the README and the manual: app-<view>-<size>.png.
//   node browser/run.mjs pictures FOLDER [all]     all: every view at every size, light and dark, to be looked at
import { mkdir, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { expect, journey, sizes, type Size } from "./harness.ts";
import { en } from "../src/words/en/index.ts";
import { small } from "./small_png.ts";
import { everyView, firstPiano, open, settled, type AnyView } from "./views.ts";

// One size each, as it is used: hands on a phone, the bench on a laptop.
const shown: [AnyView, Size][] = [
  ["pianos", "phone"],
  ["readings", "phone"],
  ["hands", "phone"],
  ["hands", "tablet"],
  ["worklist", "tablet"],
  ["brief", "laptop"],
  ["note", "laptop"],
  ["complaint", "tablet"],
  ["handover", "laptop"],
  ["overtime", "laptop"],
  ["settings", "tablet"],
  ["shop", "tablet"],
];
const most_bytes = 150_000;

const folder = process.argv[2] ?? ".";
const all = process.argv[3] === "all";

await journey("pictures", async (it) => {
  await mkdir(folder, { recursive: true });
  const server = await it.server("demo");
  const piano = await firstPiano(server.url);
  const list: [AnyView, Size, boolean][] = all
    ? everyView.flatMap((view) =>
        (Object.keys(sizes) as Size[]).flatMap((size): [AnyView, Size, boolean][] => [[view, size, false], [view, size, true]]),
      )
    : shown.map(([view, size]) => [view, size, false]);
  for (const [view, size, dark] of list) {
    await it.step(`${view}, ${size}${dark ? ", dark" : ""}`, async () => {
      const page = await it.page({ size, dark, still: true, touch: size !== "laptop" });
      await open(page, server.url, piano, view, view === "note" ? "C4" : "");
      // A step, not the door to the pass.
      const begin = page.locator(".hands-begin");
      if (await begin.isVisible()) {
        await begin.click();
        await page.locator("article.hands-step").waitFor();
      }
      const path = join(folder, `app-${view}-${size}${dark ? "-dark" : ""}.png`);
      const picture = small(await page.screenshot({ animations: "disabled", caret: "hide" }));
      expect(all || picture.length <= most_bytes, `${path} would be ${picture.length} bytes, more than ${most_bytes}`);
      await writeFile(path, picture);
      await page.context().close();
    });
  }
  for (const [name, label] of [["sheets", en["paper.sheets"]], ["gauges", en["paper.gauges"]]] as const)
    await it.step(`on paper: ${name}`, async () => {
      const page = await it.page({ size: "tablet", still: true, touch: true });
      await open(page, server.url, piano, "worklist");
      await page.locator(".folded > summary", { hasText: label }).click();
      if (name === "sheets") await page.locator(".folded > summary", { hasText: en["paper.back"] }).click();
      await settled(page, "worklist");
      await page.locator(".on-paper").evaluate((section) => section.scrollIntoView({ block: "start" }));
      const picture = small(await page.screenshot({ animations: "disabled", caret: "hide" }));
      await writeFile(join(folder, `app-${name}-tablet.png`), picture);
      await page.context().close();
    });
});
