// Two browsers at one piano: each sees the other's entries at once; two readings of the same thing are
// both kept and both shown.
import { equal, expect, journey, until, type Page } from "../harness.ts";
import { allSaved, gauge } from "../typing.ts";
import { firstPiano, open } from "../views.ts";

const stay = (page: Page) => page.locator(".readings-choose select").nth(1).selectOption("stay");
const shown = (page: Page) => page.locator(".note-readings li .number").allTextContents();

await journey("two", async (it) => {
  const server = await it.server("empty");
  await server.batten("add", "Studio grand", "--sections", "E2 bridge, A#4 strut, D6 strut");
  const piano = await firstPiano(server.url);
  const [a, b] = [await it.page({ size: "tablet" }), await it.page({ size: "phone" })];
  for (const page of [a, b]) {
    await open(page, server.url, piano, "readings");
    // A reading of which nothing is expected beforehand, so that no number is asked about.
    await page.locator(".readings-choose select").first().selectOption("down-weight");
    await stay(page);
    // Whatever was suggested meanwhile: the same note on both.
    await page.locator(".strip-drawing").press("Home");
    await page.locator(".number-field input").focus();
  }
  const note = async (page: Page) => (await page.locator(".readings-name").textContent()) ?? "";
  equal(await note(b), await note(a), "the note both begin with");
  const times: number[] = [];
  await it.step("ten readings on one, seen on the other", async () => {
    for (let i = 0; i < 10; ++i) {
      const value = String(40 + i);
      const began = Date.now();
      await gauge(a, value);
      await until(`${value} on the other`, async () => (await shown(b))[0]?.startsWith(value) ?? false);
      times.push(Date.now() - began);
      await allSaved(a);
    }
  });
  times.sort((x, y) => x - y);
  console.log(`          seen on the other after ${times[Math.floor(times.length / 2)]} ms (median), ${times.at(-1)} ms (longest)`);
  await it.step("both edit the same reading: both are kept and shown", async () => {
    await Promise.all([gauge(a, "52"), gauge(b, "57")]);
    for (const page of [a, b])
      await until("both are shown", async () => {
        const list = await shown(page);
        return list.some((text) => text.startsWith("52")) && list.some((text) => text.startsWith("57"));
      });
    for (const page of [a, b]) await allSaved(page);
    const last = (await server.history()).slice(-2).map((entry) => entry.typed).sort();
    equal(last.join(" "), "52 57", "on record");
    const states = await a.locator(".note-readings li .quiet").allTextContents();
    expect(states[0]?.includes("counts") && states[1]?.includes("earlier"), `Which of them counts is not said: ${states.slice(0, 2).join(" | ")}`);
  });
  await it.step("an entry from the command line is seen by both", async () => {
    const at = (await note(a)).replace("♯", "#").trim();
    await server.batten("read", "down-weight", at, "60");
    for (const page of [a, b]) await until("it is shown", async () => (await shown(page)).some((text) => text.startsWith("60")));
  });
});
