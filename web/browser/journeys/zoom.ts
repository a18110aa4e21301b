// 200 % zoom, small windows and a system that asks for no motion.
import { fits, largeTargets } from "../audit.ts";
import { equal, journey } from "../harness.ts";
import { everyView, firstPiano, open } from "../views.ts";

await journey("zoom", async (it) => {
  const server = await it.server("demo");
  const piano = await firstPiano(server.url);
  for (const size of ["laptop", "tablet"] as const) {
    const page = await it.page({ size, zoom: 2, still: true });
    for (const view of everyView) {
      await it.step(`${view}, ${size} at 200 %, still`, async () => {
        await open(page, server.url, piano, view, view === "note" ? "C4" : "");
        await fits(page, `${view}, ${size} at 200 %`);
        await largeTargets(page, `${view}, ${size} at 200 %`);
        const moving = await page.evaluate(() => document.getAnimations().filter((a) => a.playState === "running").length);
        equal(moving, 0, `animations running in ${view} though none are wanted`);
      });
    }
    await page.close();
  }
});
