// How quick the app is, beside a bare page in the same browser and run; prints a table, asserts nothing of
// time.   node browser/run.mjs speed [cold loads]
import { mkdtempSync, openSync, fsyncSync, writeSync, rmSync } from "node:fs";
import { createServer, type ServerResponse } from "node:http";
import { cpus, tmpdir } from "node:os";
import { join } from "node:path";
import { gzipSync } from "node:zlib";
import { journey, until, type Journey, type Page } from "./harness.ts";
import { gauge } from "./typing.ts";
import { firstPiano, open } from "./views.ts";

const loads = Number(process.argv[2] ?? 12);
const entries = 20;

function at(sorted: number[], share: number): number {
  return sorted[Math.min(sorted.length - 1, Math.floor(sorted.length * share))] ?? NaN;
}
function row(what: string, times: number[], goal: string): void {
  const sorted = [...times].sort((a, b) => a - b);
  const ms = (value: number) => `${value.toFixed(0)} ms`.padStart(9);
  console.log(`${what.padEnd(58)}${ms(at(sorted, 0.5))}${ms(at(sorted, 0.95))}  ${goal}`);
}

/** From the beginning of the navigation until `selector` has been painted, each in a browser that knows nothing yet. */
async function drawn(it: Journey, url: string, selector: string): Promise<number[]> {
  const times: number[] = [];
  for (let i = 0; i < loads; ++i) {
    const page = await it.page({ size: "tablet" });
    await page.addInitScript((wanted) => {
      const look = () => {
        if (document.querySelector(wanted)) requestAnimationFrame(() => requestAnimationFrame(() => Object.assign(window, { drawnAt: performance.now() })));
        else requestAnimationFrame(look);
      };
      requestAnimationFrame(look);
    }, selector);
    await page.goto(url, { waitUntil: "commit" });
    times.push(await until("it is drawn", () => page.evaluate(() => (window as { drawnAt?: number }).drawnAt), 30_000));
    await page.context().close();
  }
  return times;
}

/** The least that could do the same: a script of the same size, one answer, 88 keys drawn; one line synced, sent and shown. */
async function bare(script: string) {
  const folder = mkdtempSync(join(tmpdir(), "batten-bare-"));
  const file = openSync(join(folder, "log"), "a");
  const streams = new Set<ServerResponse>();
  const page = `<!doctype html><title>bare</title><p id="said">-</p><input id="field"><svg id="keys" viewBox="0 0 880 100"></svg>
<script type="module" src="/app.js"></script>`;
  const draws = `
fetch("/answer").then((a) => a.json()).then(({ keys }) => {
  document.getElementById("keys").innerHTML = keys.map((k) => \`<rect x="\${k * 10}" width="9" height="100"/>\`).join("");
  document.getElementById("keys").classList.add("drawn");
});
new EventSource("/events").onmessage = (e) => (document.getElementById("said").textContent = e.data);
document.getElementById("field").onkeydown = (e) => e.key === "Enter" && fetch("/entry", { method: "POST", body: e.target.value }).then(() => (e.target.value = ""));`;
  const server = createServer((request, response) => {
    if (request.url === "/app.js") response.writeHead(200, { "Content-Type": "text/javascript" }).end(`const never = () => {${script}\n};\n${draws}`);
    else if (request.url === "/answer") response.writeHead(200, { "Content-Type": "application/json" }).end(JSON.stringify({ keys: [...Array(88).keys()] }));
    else if (request.url === "/events") {
      response.writeHead(200, { "Content-Type": "text/event-stream" }).write(":\n\n");
      streams.add(response);
    } else if (request.url === "/entry") {
      let body = "";
      request.on("data", (part: Buffer) => (body += part.toString()));
      request.on("end", () => {
        writeSync(file, `${body}\n`);
        fsyncSync(file);
        for (const stream of streams) stream.write(`data: ${body}\n\n`);
        response.writeHead(200).end("{}");
      });
    } else response.writeHead(200, { "Content-Type": "text/html" }).end(page);
  });
  await new Promise<void>((go) => server.listen(0, "127.0.0.1", go));
  const address = server.address();
  const port = typeof address === "object" && address ? address.port : 0;
  return {
    url: `http://127.0.0.1:${port}`,
    end: () => {
      for (const stream of streams) stream.end();
      server.close();
      server.closeAllConnections();
      rmSync(folder, { recursive: true });
    },
  };
}

/** From the Enter on one page until the other shows the value, both on one clock. */
async function seen(from: Page, to: Page, selector: string, type: (value: string) => Promise<void>): Promise<number[]> {
  const times: number[] = [];
  await from.evaluate(() =>
    addEventListener("keydown", (e) => e.key === "Enter" && Object.assign(window, { enteredAt: Date.now() }), true),
  );
  for (let i = 0; i < entries; ++i) {
    const value = String(30 + i);
    const shown = to.evaluate(
      ([where, wanted]) =>
        new Promise<number>((resolve) => {
          const look = () => {
            if (!(document.querySelector(where!)?.textContent ?? "").includes(wanted!)) return false;
            requestAnimationFrame(() => resolve(Date.now()));
            return true;
          };
          if (look()) return;
          const watch = new MutationObserver(() => look() && watch.disconnect());
          watch.observe(document.body, { subtree: true, childList: true, characterData: true });
        }),
      [selector, value] as const,
    );
    await type(value);
    const when = await shown;
    times.push(when - (await from.evaluate(() => (window as { enteredAt?: number }).enteredAt ?? NaN)));
  }
  return times;
}

await journey("speed", async (it) => {
  const server = await it.server("demo");
  const script = await (await fetch(`${server.url}/app.js`)).text();
  const reference = await bare(script);
  try {
    console.log(`${cpus().length} × ${cpus()[0]?.model ?? "unknown"}\n`);
    console.log(`${"".padEnd(58)}${"median".padStart(9)}${"95 %".padStart(9)}  goal`);
    const piano = await firstPiano(server.url);
    row("first useful picture of the demo piano, cold", await drawn(it, `${server.url}/#/p/${piano}/worklist`, ".strip-drawing"), "≤ 500 ms");
    row("  bare page with a script of the same size", await drawn(it, reference.url, "#keys.drawn"), "");
    const [a, b] = [await it.page({ size: "tablet" }), await it.page({ size: "tablet" })];
    for (const page of [a, b]) {
      await open(page, server.url, piano, "readings");
      await page.locator(".readings-choose select").first().selectOption("down-weight");
      await page.locator(".readings-choose select").nth(1).selectOption("stay");
      // Whatever was suggested: the same note on both.
      await page.locator(".strip-drawing").press("Home");
    }
    await b.evaluate(() => (document.activeElement as HTMLElement | null)?.blur());
    await a.locator(".number-field input").focus();
    row("entry typed, on disk, shown on the other browser", await seen(a, b, ".note-readings li .number", (value) => gauge(a, value)), "≤ 150 ms");
    const [x, y] = [await it.page(), await it.page()];
    for (const page of [x, y]) await page.goto(reference.url);
    await x.locator("#field").focus();
    row(
      "  bare server: one line synced, one event",
      await seen(x, y, "#said", async (value) => {
        await x.locator("#field").fill(value);
        await x.keyboard.press("Enter");
      }),
      "",
    );
    const names = await a.evaluate(() => performance.getEntriesByType("resource").map((one) => one.name).filter((name) => name.endsWith(".js")));
    const scripts = await Promise.all(names.map(async (name) => (await fetch(name)).text()));
    const gzip = scripts.reduce((sum, one) => sum + gzipSync(one, { level: 9 }).length, 0);
    console.log(`\nJavaScript loaded (${names.map((name) => new URL(name).pathname).join(", ")}): ${(gzip / 1000).toFixed(1)} kB gzip; goal ≤ 120 kB`);
  } finally {
    reference.end();
  }
});
