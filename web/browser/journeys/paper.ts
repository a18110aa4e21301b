// What goes onto paper and comes back: the letterhead, the handover in both languages, a bench sheet typed back, gauges to cut.
import { execFileSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import deWords from "../../../data/words/de/page.json";
import { en } from "../../src/words/en/index.ts";
import { passName } from "../../src/views/hands/wording.ts";
import type { Plan } from "../../src/api/plan_types.ts";
import { learn } from "../../src/words/index.ts";
import { axe, fits, largeTargets } from "../audit.ts";
import { equal, expect, journey, until, type Page } from "../harness.ts";
import { says } from "../hands.ts";
import { allSaved } from "../typing.ts";
import { firstPiano, open, settled } from "../views.ts";

learn("en", en);
const folder = mkdtempSync(join(tmpdir(), "batten-paper-"));

/** What the button has the browser save, in a file of its own. */
async function saved(page: Page, button: string | RegExp): Promise<{ file: string; name: string }> {
  const [download] = await Promise.all([page.waitForEvent("download"), page.getByRole("button", { name: button }).click()]);
  const name = download.suggestedFilename();
  const file = join(folder, name);
  await download.saveAs(file);
  return { file, name };
}
const textOf = (file: string) => execFileSync("pdftotext", ["-layout", file, "-"], { encoding: "utf8" });
/** Poppler's table: name, type, encoding, emb, sub, uni, object. */
function everyFontIsIn(file: string): boolean {
  const lines = execFileSync("pdffonts", [file], { encoding: "utf8" }).trim().split("\n").slice(2);
  return lines.length > 0 && lines.every((line) => / yes\s+(yes|no)\s+yes\s+\d+\s+\d+$/.test(line));
}
const unfold = (page: Page, label: string) => page.locator(".folded > summary", { hasText: label }).click();

await journey("paper", async (it) => {
  const server = await it.server("demo");
  const piano = await firstPiano(server.url);
  const page = await it.page();
  // A wrong line is refused, as it should be.
  it.allow(/status of 422 .*\/back\?/);

  await it.step("letterhead and logo", async () => {
    await open(page, server.url, piano, "shop");
    const name = en["settings.name.letterhead-name"];
    await page.getByRole("button", { name: `Change ${name}`, exact: true }).click();
    await page.getByRole("textbox", { name }).fill("Mira Sand, grand pianos");
    await page.keyboard.press("Enter");
    await says(page, "Mira Sand, grand pianos");
    const lines = en["settings.name.letterhead-lines"];
    await page.getByRole("button", { name: `Change ${lines}`, exact: true }).click();
    await page.getByRole("textbox", { name: lines }).fill("7 Harbour Row\n+00 000 0000");
    await page.getByRole("button", { name: en["do.save"], exact: true }).click();
    await says(page, "7 Harbour Row");
    const logo = await page.screenshot({ clip: { x: 0, y: 0, width: 200, height: 56 } });
    await page.locator("input[type=file]").setInputFiles({ name: "logo.gif", mimeType: "image/gif", buffer: logo });
    await says(page, en["shop.logo.wrong_kind"]);
    await page.locator("input[type=file]").setInputFiles({ name: "logo.png", mimeType: "image/png", buffer: logo });
    await until("the logo is shown", () => page.evaluate(() => (document.querySelector<HTMLImageElement>(".shop-logo img")?.naturalWidth ?? 0) > 0));
    expect(!(await page.locator("main").innerText()).includes(en["shop.logo.wrong_kind"]), "The problem is still told.");
  });

  await it.step("own words, on record and on the page", async () => {
    await open(page, server.url, piano, "handover");
    await page.getByLabel(en["handover.words"], { exact: true }).fill("Thank you for the coffee.");
    await page.getByRole("button", { name: en["do.save"] }).first().click();
    await allSaved(page);
    await until("the page says it", async () => (await page.locator(".paper-page").innerText()).includes("Thank you for the coffee."));
    const last = (await server.history()).at(-1);
    equal(last?.kind, "setting", "kind of the last entry");
    await until("the logo is on the page", () =>
      page.evaluate(() => (document.querySelector<HTMLImageElement>(".paper-letterhead img")?.naturalWidth ?? 0) > 0),
    );
  });

  await it.step("the page in German, the app in English, kept as PDF", async () => {
    await page.getByRole("button", { name: "Deutsch" }).click();
    await until("the page is German", async () => (await page.locator(".paper-page").innerText()).includes(deWords["page.feel"]));
    equal(await page.locator(".paper-page").getAttribute("lang"), "de", "language of the page");
    const { file, name } = await saved(page, en["handover.pdf"]);
    expect(name.endsWith(".pdf"), `The file is called ${name}`);
    const text = textOf(file);
    for (const wanted of ["Mira Sand, grand pianos", "7 Harbour Row", "Thank you for the coffee.", deWords["page.feel"], deWords["page.sign"]])
      expect(text.includes(wanted), `The PDF does not say "${wanted}":\n${text.slice(0, 1500)}`);
    expect(everyFontIsIn(file), "A font is not in the file.");
    await page.getByRole("button", { name: "English" }).click();
  });

  for (const paper of ["A4", "Letter"] as const) {
    await it.step(`printed from the browser: one sheet of ${paper}, however much there is to say`, async () => {
      const words = `Begins here. ${"The hall was warm and the work went well. ".repeat(45)}Ends here.`;
      await page.getByRole("button", { name: paper, exact: true }).click();
      await page.getByLabel(en["handover.words"], { exact: true }).fill(words);
      await page.getByRole("button", { name: en["do.save"] }).first().click();
      await until("the page says it", async () => (await page.locator(".paper-page").innerText()).includes("Ends here."));
      const file = join(folder, "owner.pdf");
      writeFileSync(file, await page.pdf({ preferCSSPageSize: true }));
      const told = execFileSync("pdfinfo", [file], { encoding: "utf8" });
      expect(/^Pages:\s+1$/m.test(told), `Not one sheet:\n${told}`);
      // ISO 216 and ANSI: 210 mm and 8.5 in, in points; a browser rounds to its pixels.
      const width = Number(/Page size:\s+([\d.]+)/.exec(told)?.[1]);
      expect(Math.abs(width - (paper === "A4" ? 595.28 : 612)) < 1, `The sheet is ${width} pt wide`);
      expect(textOf(file).includes("Begins here.") && textOf(file).includes("page 1 of 1"), "What was written first is not on the sheet.");
      const shown = await page.locator(".paper-page").innerText();
      expect(shown.includes("Ends here.") && !(await page.locator(".paper-cut").isVisible()), "The screen was not put back after printing.");
      await page.getByLabel(en["handover.words"], { exact: true }).fill("Thank you.");
      await page.getByRole("button", { name: en["do.save"] }).first().click();
      await until("the page says it", async () => (await page.locator(".paper-page").innerText()).includes("Thank you."));
    });
  }

  await it.step("a sheet for the bench, typed back: a wrong line writes nothing", async () => {
    await open(page, server.url, piano, "worklist");
    await unfold(page, en["paper.sheets"]);
    await unfold(page, en["paper.back"]);
    const plan = (await (await fetch(`${server.url}/api/pianos/${piano}/plan`)).json()) as Plan;
    const pass = plan.passes.find((one) => one.steps.some((step) => step.kind === "turn") && one.moves > 1);
    expect(pass, "There is no pass with moves.");
    const turns = pass.steps.flatMap((step, i) => (step.kind === "turn" ? [i + 1] : []));
    const { file } = await saved(page, `Sheet: ${passName(pass.adjuster)}`);
    const text = textOf(file);
    const code = /\b[A-Z]{2}-\d+-[A-Z]\b/.exec(text)?.[0] ?? "";
    expect(code !== "", `There is no code on the sheet:\n${text.slice(0, 800)}`);
    const before = (await server.history()).length;
    await page.getByLabel(en["paper.back.code"]).fill(code);
    const lines = page.getByLabel(en["paper.back.lines"]);
    await lines.fill(`${turns[0]} =\n${turns[1]} - screw is stuck\n9999 =`);
    await page.keyboard.press("Control+Enter");
    await says(page, /9999/);
    await page.locator(".on-paper .notice-stop").waitFor();
    equal((await server.history()).length, before, "entries after a refusal");
    expect((await lines.inputValue()).includes("screw is stuck"), "What was typed is gone.");
    await lines.fill(`${turns[0]} =\n${turns[1]} - screw is stuck`);
    await page.keyboard.press("Control+Enter");
    await page.locator(".on-paper .notice-good").waitFor();
    equal(await lines.inputValue(), "", "what is left to write down");
    const now = await server.history();
    expect(now.length >= before + 2, `Only ${now.length - before} entries were written down.`);
    expect(now.slice(before).some((entry) => entry.kind === "skip"), "What was left is not on record.");
  });

  await it.step("gauges to cut", async () => {
    await unfold(page, en["paper.gauges"]);
    await until("the gauges are drawn", () =>
      page.evaluate(() => document.querySelectorAll(".gauges-picture path").length > 5),
    );
    const pdf = await saved(page, "PDF");
    expect(everyFontIsIn(pdf.file), "A font is not in the file.");
    expect(/100\s*mm/.test(textOf(pdf.file)), "There is no check bar on the template.");
    const svg = await saved(page, "SVG");
    expect(/width="[\d.]+mm"/.test(readFileSync(svg.file, "utf8")), "The drawing does not say its width in mm.");
    const dxf = await saved(page, en["paper.gauges.dxf"]);
    expect(readFileSync(dxf.file, "utf8").includes("EOF"), "The DXF file has no end.");
    const boxes = page.locator(".gauges-one input");
    for (let i = 0; i < (await boxes.count()); ++i) await boxes.nth(i).uncheck();
    await says(page, en["paper.gauges.choose"]);
    await boxes.first().check();
  });

  for (const size of ["phone", "tablet", "laptop"] as const) {
    await it.step(`everything unfolded, ${size}`, async () => {
      const other = await it.page({ size, touch: size !== "laptop", dark: size === "tablet" });
      await open(other, server.url, piano, "worklist");
      for (const label of [en["paper.sheets"], en["paper.back"], en["paper.gauges"]]) await unfold(other, label);
      await settled(other, "worklist");
      await axe(other, "worklist, unfolded");
      await fits(other, `worklist, unfolded, ${size}`);
      await largeTargets(other, `worklist, unfolded, ${size}`);
      await open(other, server.url, piano, "handover");
      await other.getByRole("button", { name: en["handover.file"] }).click();
      await settled(other, "handover");
      await axe(other, "sheet for the file");
      await fits(other, `sheet for the file, ${size}`);
      await other.close();
    });
  }
  rmSync(folder, { recursive: true });
});
