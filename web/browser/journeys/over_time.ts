// What a piano's past says of its future: when it is due, what to look at first, two visits compared; a day's work over
// several pianos; a piano taken along and read in elsewhere.
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { en } from "../../src/words/en/index.ts";
import { axe, fits, largeTargets } from "../audit.ts";
import { says } from "../hands.ts";
import { equal, expect, journey, until, type Page } from "../harness.ts";
import { saved } from "../saving.ts";
import { firstPiano, open, settled } from "../views.ts";

const folder = mkdtempSync(join(tmpdir(), "batten-over-time-"));
const status = (page: Page) => page.locator("[aria-labelledby=overtime-months] > p[role=status]").innerText();
const button = (page: Page, name: string) => page.getByRole("button", { name, exact: true });
/** RFC 5545, 3.1: a line that begins with a blank goes on with the one before. */
const unfolded = (file: string) => readFileSync(file, "utf8").replace(/\r\n[ \t]/g, "").split("\r\n");

await journey("over-time", async (it) => {
  const server = await it.server("demo");
  const piano = await firstPiano(server.url);
  const page = await it.page();

  await it.step("when the next visit is due", async () => {
    await open(page, server.url, piano, "overtime");
    await says(page, /By \d+ \w+ \d{4}|it is overdue|Not within the next 24 months/);
    await says(page, /Learned from \d+ visits: \d+ readings/);
    expect(await page.locator(".share-chart svg[role=img]").isVisible(), "The months are not drawn.");
  });
  await it.step("month by month, by keyboard", async () => {
    const before = await status(page);
    await page.locator(".overtime-slider").focus();
    await page.keyboard.press("End");
    await until("the last month is told", async () => (await status(page)) !== before);
    expect(/^In 24 months/.test(await status(page)), `The slider's end says: ${await status(page)}`);
    await page.keyboard.press("Home");
    await until("today is told", async () => (await status(page)).startsWith("Today"));
    await page.getByText(en["overtime.figures"], { exact: true }).click();
    equal(await page.locator(".overtime-table").first().locator("tbody tr").count(), 25, "months in the table, today with them");
  });
  await it.step("one reading, and what moves it", async () => {
    await page.getByLabel(en["overtime.chart.of"]).selectOption("blow");
    await says(page, en["overtime.causes"]);
    await says(page, /year’s swing of wood and cloth.*: [+−]?\d/s);
    await axe(page, "one reading over time");
    await page.getByLabel(en["overtime.chart.of"]).selectOption("all");
  });
  await it.step("a date for the calendar", async () => {
    const { file, name } = await saved(page, folder, en["overtime.calendar"]);
    expect(name.endsWith(".ics"), `It is saved as ${name}`);
    const lines = unfolded(file);
    equal(lines[0], "BEGIN:VCALENDAR", "its first line");
    equal(lines.filter((line) => line === "BEGIN:VEVENT").length, 1, "events");
    expect(lines.some((line) => /^DTSTART;VALUE=DATE:\d{8}$/.test(line)), "It has no day.");
  });
  await it.step("first things to check", async () => {
    for (const after of ["wet", "heavy-use", "new-felt", "transport", "new-hammers", "dry"] as const) {
      await button(page, en[`overtime.after.${after}`]).click();
      await settled(page, "overtime");
      const list = after === "transport" || after === "new-hammers";
      if (list) await says(page, en["overtime.checks.practice"]);
      const lines = await page.locator(".overtime-checks > li").allInnerTexts();
      // Of heavy use little may be expected, and then it says so.
      if (after === "heavy-use" && lines.length === 0) await says(page, en["overtime.checks.none"]);
      else expect(lines.length > 0, `Nothing is to be checked after ${after}.`);
      expect(!lines.some((line) => line.includes("drift.")), `A key in place of words after ${after}: ${lines.join(" | ")}`);
      if (!list && lines.length > 0) expect(/Read at [A-G]/.test(lines[0] ?? ""), `No notes to read after ${after}: ${lines[0]}`);
    }
  });
  await it.step("any two visits compared", async () => {
    const [from, to] = [page.getByLabel(en["overtime.compare.from"]), page.getByLabel(en["overtime.compare.to"])];
    const later = await to.locator("option").count();
    expect(later >= 4, `${later} visits to compare with, expected four or more`);
    await to.selectOption({ index: 0 });
    await says(page, en["overtime.compare.by_itself"]);
    equal(await from.locator("option").count(), 1, "visits before the second");
    await settled(page, "overtime");
    const rows = () => page.locator(".overtime-shifts tbody tr").count();
    const told = await rows();
    await page.getByLabel(en["overtime.compare.show_all"]).check();
    await until("more is told", async () => (await rows()) > told);
    await says(page, en["overtime.compare.noise"]);
    await axe(page, "two visits compared");
  });
  await it.step("on a phone", async () => {
    const phone = await it.page({ size: "phone", touch: true });
    await open(phone, server.url, piano, "overtime");
    await phone.getByLabel(en["overtime.compare.show_all"]).check();
    await phone.getByLabel(en["overtime.chart.of"]).selectOption("blow");
    await phone.getByText(en["overtime.figures"], { exact: true }).click();
    await fits(phone, "over time, all of it, phone");
    await largeTargets(phone, "over time, all of it, phone");
    await phone.close();
  });

  const file = join(folder, "piano.json");
  await it.step("the piano as a file, read in elsewhere, twice", async () => {
    const taken = await saved(page, folder, en["overtime.data.bundle"]);
    writeFileSync(file, readFileSync(taken.file));
    const there = await it.server("empty");
    const other = await it.page({ size: "tablet" });
    await open(other, there.url, "", "pianos");
    await until("a new piano can be read in", () => button(other, en["studio.bundle"]).isEnabled());
    await button(other, en["studio.bundle"]).click();
    await button(other, en["studio.bundle.do"]).click();
    await says(other, en["studio.bundle.none"]);
    await other.locator("input[type=file]").setInputFiles(file);
    await axe(other, "reading in a piano");
    await button(other, en["studio.bundle.do"]).click();
    await says(other, "Hall grand, 2.1 m is here.");
    const here = (await server.history()).length;
    await says(other, `${here} entries were new, 0 were here already.`);
    equal((await there.history()).length, here, "entries after it was read in");
    await button(other, en["do.close"]).click();
    await button(other, en["studio.bundle"]).click();
    await other.locator("input[type=file]").setInputFiles(file);
    await button(other, en["studio.bundle.do"]).click();
    await says(other, `0 entries were new, ${here} were here already.`);
    equal((await there.history()).length, here, "entries after it was read in twice");
  });
  await it.step("a file that is damaged changes nothing", async () => {
    it.allow(/status of 4\d\d/);
    const text = readFileSync(file, "utf8");
    const middle = Math.floor(text.length / 2);
    const digit = text.slice(middle).search(/\d/) + middle;
    writeFileSync(file, text.slice(0, digit) + String((Number(text[digit]) + 1) % 10) + text.slice(digit + 1));
    await open(page, server.url, piano, "pianos");
    const before = (await server.history()).length;
    await button(page, en["studio.bundle"]).click();
    await page.locator("input[type=file]").setInputFiles(file);
    await button(page, en["studio.bundle.do"]).click();
    await page.locator("dialog .notice-stop").waitFor();
    equal((await server.history()).length, before, "entries after a damaged file");
    await button(page, en["do.close"]).click();
  });

  await it.step("several pianos, and a day’s work", async () => {
    await server.batten("add", "Studio grand", "--sections", "E2 bridge, A#4 strut, D6 strut");
    await page.reload();
    await settled(page);
    await says(page, /\d overdue, \d due within 30 days, \d later, 1 not known yet/);
    await button(page, en["studio.day.plan"]).click();
    await says(page, en["studio.day.left_out"]);
    const { file: all, name } = await saved(page, folder, en["studio.calendar"]);
    expect(name.endsWith(".ics"), `It is saved as ${name}`);
    equal(unfolded(all)[0], "BEGIN:VCALENDAR", "its first line");
    await axe(page, "pianos with a day’s work");
    await page.getByRole("link", { name: /overdue|due by|not due/i }).first().click();
    await until("the piano over time is shown", async () => page.url().endsWith("/overtime"));
  });
  rmSync(folder, { recursive: true });
});
