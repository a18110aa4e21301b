// Every view of the demo piano, light and dark: axe-core finds nothing, targets are large, nothing is cut off.
import { axe, fits, largeTargets } from "../audit.ts";
import { journey } from "../harness.ts";
import { everyView, firstPiano, open } from "../views.ts";

await journey("axe", async (it) => {
  const server = await it.server("demo");
  const piano = await firstPiano(server.url);
  const views = everyView;
  for (const dark of [false, true]) {
    const page = await it.page({ dark });
    for (const view of views) {
      await it.step(`${view}, ${dark ? "dark" : "light"}`, async () => {
        await open(page, server.url, piano, view, view === "note" ? "C4" : "");
        await axe(page, view);
      });
    }
    await page.close();
  }
  for (const size of ["phone", "tablet", "laptop"] as const) {
    const page = await it.page({ size, touch: size !== "laptop" });
    for (const view of views) {
      await it.step(`${view}, ${size}`, async () => {
        await open(page, server.url, piano, view, view === "note" ? "C4" : "");
        await fits(page, `${view}, ${size}`);
        await largeTargets(page, `${view}, ${size}`);
      });
    }
    await page.close();
  }
});
