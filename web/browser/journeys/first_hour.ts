// What docs/manual/first-hour.md tells, done as it is told: where the demo piano stands, why the next move is what it is,
// and five moves. Given a folder, it leaves the page's pictures there.
//   node browser/run.mjs journeys/first_hour [FOLDER]
import { writeFile } from "node:fs/promises";
import { join } from "node:path";
import { equal, expect, journey, until, type Page } from "../harness.ts";
import { Touch, says } from "../hands.ts";
import { small } from "../small_png.ts";
import { firstPiano, settled } from "../views.ts";

const folder = process.argv[2];
const moves = 5;

await journey("first-hour", async (it) => {
  const server = await it.server("demo");
  await firstPiano(server.url);
  const page = await it.page({ size: "tablet", touch: true, still: true });
  const hand = new Touch(page);
  const button = (name: string | RegExp) => page.getByRole("button", { name });
  const picture = async (name: string) => {
    if (!folder) return;
    const taken = small(await page.screenshot({ animations: "disabled", caret: "hide" }));
    await writeFile(join(folder, `first-hour-${name}.png`), taken);
  };

  await it.step("the pianos", async () => {
    await page.goto(server.url);
    await settled(page);
    await picture("pianos");
  });
  await it.step("where it stands", async () => {
    await hand.press(page.getByRole("button", { name: "Open" }).or(page.getByRole("link", { name: "Open" })).first());
    await says(page, "Where were we");
    await says(page, /Under way: blow \(11 of \d+ notes\)/);
    await settled(page, "worklist");
    await picture("worklist");
  });
  await it.step("what to mind, before the pass begins", async () => {
    await hand.press(button(/^Start: /).first());
    await says(page, "A blocked hammer breaks");
    await settled(page, "hands");
    await picture("cautions");
    await hand.press(button("Understood, begin"));
  });
  await it.step("a reading, and the rest later", async () => {
    await says(page, "Read: blow");
    await settled(page, "hands");
    await picture("reading");
    await answer(page, hand);
    for (let i = 0; i < 30 && (await button("Later").isVisible()); ++i) {
      const before = await page.locator("main").innerText();
      await hand.press(button("Later"));
      await until("the next step is shown", async () => (await page.locator("main").innerText()) !== before);
    }
    await button("Done").waitFor();
  });
  await it.step("why this move", async () => {
    await settled(page, "hands");
    await picture("move");
    await hand.press(page.getByText("Why? All of it"));
    await says(page, "What is off");
    await settled(page, "hands");
    await page.locator(".hands-reasons").evaluate((list) => list.scrollIntoView({ block: "center" }));
    await picture("why");
    await hand.press(page.getByText("Why? All of it"));
  });
  await it.step("five moves", async () => {
    const made = async () => (await server.history()).filter((e) => e.kind === "move" && e.in_force).length;
    const before = await made();
    for (let done = 0; done < moves; ) {
      const shown = await page.locator("main").innerText();
      if (await button("Done").isVisible()) {
        await hand.press(button("Done"));
        ++done;
      } else {
        await answer(page, hand);
      }
      await until("the next step is shown", async () => (await page.locator("main").innerText()) !== shown);
      await settled(page, "hands");
      if (done === 1) await picture("after");
    }
    await until("five more moves are on record", async () => (await made()) === before + moves);
    equal(await made(), before + moves, "moves on record");
  });
  await it.step("where it stands now", async () => {
    await hand.press(page.getByRole("link", { name: "Worklist" }).first());
    await says(page, /Under way: blow \(1\d of \d+ notes\)/);
    await settled(page, "worklist");
    await picture("again");
  });
});

/** Types what the gauge should show. */
async function answer(page: Page, hand: Touch): Promise<void> {
  const told = /should show about ([\d.]+)/.exec(await page.locator("main").innerText());
  expect(told, "The step says what the gauge should show.");
  await hand.number(told[1] ?? "");
}
