// How quick a what-if is while a slider is dragged: from the hand's move to the drawing painted, beside the least
// that could do the same in the same browser and run; prints a table, asserts nothing of time.
//   node browser/run.mjs what_if_speed [drags]
import { createServer } from "node:http";
import { cpus, loadavg } from "node:os";
import { journey, until, type Page } from "./harness.ts";
import { firstPiano, open } from "./views.ts";

const drags = Math.max(200, Number(process.argv[2] ?? 240));

function row(what: string, times: readonly number[], goal = ""): void {
  const sorted = [...times].sort((a, b) => a - b);
  const at = (share: number) => sorted[Math.min(sorted.length - 1, Math.floor(sorted.length * share))] ?? NaN;
  const ms = (value: number) => `${value.toFixed(1)} ms`.padStart(10);
  console.log(`${what.padEnd(62)}${`${sorted.length}`.padStart(5)}${ms(at(0.5))}${ms(at(0.95))}  ${goal}`);
}

/** An answer of the size of the app's, and a drawing of as many shapes made of it. */
async function bare(answer: string) {
  const page = `<!doctype html><title>bare</title><input id="slider" type="range" min="-1" max="1" step="0.01"><p id="said"></p>
<svg id="drawing" viewBox="-290 -200 580 260" width="640" height="290"></svg><script type="module">
const [slider, said, drawing] = ["slider", "said", "drawing"].map((id) => document.getElementById(id));
let busy = false, next = null;
async function ask(value) {
  if (busy) { next = value; return; }
  busy = true;
  const answer = await (await fetch("/what-if", { method: "POST", body: JSON.stringify({ value }) })).json();
  drawing.innerHTML = [...answer.fixed, ...answer.moving].flatMap((g) => g.shapes).map((s) => "<path d='M" + s.points.join(" ") + "'/>").join("");
  said.textContent = value;
  window.drawnFor = value;
  busy = false;
  if (next !== null) { const again = next; next = null; void ask(again); }
}
slider.oninput = () => ask(Number(slider.value));
</script>`;
  const server = createServer((request, response) => {
    if (request.url !== "/what-if") return void response.writeHead(200, { "Content-Type": "text/html" }).end(page);
    request.resume().on("end", () => response.writeHead(200, { "Content-Type": "application/json" }).end(answer));
  });
  await new Promise<void>((go) => server.listen(0, "127.0.0.1", go));
  const address = server.address();
  return { url: `http://127.0.0.1:${typeof address === "object" && address ? address.port : 0}`, end: () => void (server.close(), server.closeAllConnections()) };
}

/** Drags the slider on every frame there is time for, and waits for each position to be drawn. */
function drag(page: Page, selector: string, answered: string, count: number): Promise<number[]> {
  return page.evaluate(
    async ([selector, answered, count]) => {
      const slider = document.querySelector<HTMLInputElement>(selector)!;
      const drawnFor = () => (answered === "note" ? Number(document.querySelector<HTMLElement>(".note")!.dataset["drawn"]) : (window as { drawnFor?: number }).drawnFor);
      const frame = () => new Promise<void>((go) => requestAnimationFrame(() => go()));
      const painted = () =>
        new Promise<void>((go) => {
          const channel = new MessageChannel();
          channel.port1.onmessage = () => go();
          channel.port2.postMessage(0);
        });
      const times: number[] = [];
      for (let i = 0; i < count; ++i) {
        await frame();
        const value = Math.round(100 * 0.5 * Math.sin((i + 1) / 11)) / 100 + (i % 2 ? 0.01 : 0);
        const began = performance.now();
        slider.value = `${value}`;
        slider.dispatchEvent(new Event("input", { bubbles: true }));
        const wanted = Number(slider.value);
        // The frame that finds it drawn paints it.
        do {
          await frame();
          if (performance.now() - began > 30_000) throw new Error(`not drawn: ${wanted}`);
        } while (!(Math.abs((drawnFor() ?? NaN) - wanted) < 1e-6));
        await painted();
        times.push(performance.now() - began);
      }
      return times;
    },
    [selector, answered, count] as const,
  );
}

/** Processor time the page's main thread has had, ms: what a busy machine does not stretch. */
async function worked(page: Page): Promise<() => Promise<number>> {
  const session = await page.context().newCDPSession(page);
  await session.send("Performance.enable", { timeDomain: "threadTicks" });
  return async () => {
    const { metrics } = await session.send("Performance.getMetrics");
    return 1000 * (metrics.find((metric) => metric.name === "TaskDuration")?.value ?? NaN);
  };
}

/** The server's part alone: the same question again and again over one connection. */
function served(page: Page, path: string, count: number): Promise<number[]> {
  return page.evaluate(
    async ([path, count]) => {
      const { token } = (await (await fetch("/api/session")).json()) as { token: string };
      const times: number[] = [];
      for (let i = 0; i < count; ++i) {
        const body = JSON.stringify({ moves: { capstan: Math.round(50 * Math.sin(i / 9)) / 100 }, depth: 3, frames: 0 });
        const began = performance.now();
        const answer = await fetch(path, { method: "POST", headers: { "Content-Type": "application/json", "X-Batten-Token": token }, body });
        await answer.text();
        times.push(performance.now() - began);
      }
      return times;
    },
    [path, count] as const,
  );
}

await journey("what_if_speed", async (it) => {
  const server = await it.server("demo");
  const piano = await firstPiano(server.url);
  const page = await it.page({ size: "laptop" });
  await open(page, server.url, piano, "note", "C4");
  await until("the note is drawn", () => page.evaluate(() => document.querySelector(".note-whole") !== null));
  const path = `/api/pianos/${piano}/notes/C4/what-if`;
  const answer = await page.evaluate(async (path) => {
    const { token } = (await (await fetch("/api/session")).json()) as { token: string };
    const asked = await fetch(path, { method: "POST", headers: { "Content-Type": "application/json", "X-Batten-Token": token }, body: '{"moves":{"capstan":0.1}}' });
    return asked.text();
  }, path);
  const reference = await bare(answer);
  try {
    const beside = await it.page({ size: "laptop" });
    await beside.goto(reference.url);
    const [ourWork, theirWork] = [await worked(page), await worked(beside)];
    console.log(`${cpus().length} × ${cpus()[0]?.model ?? "unknown"}, load ${loadavg()[0]!.toFixed(1)}; an answer of ${(answer.length / 1000).toFixed(1)} kB\n`);
    console.log(`${"".padEnd(62)}${"n".padStart(5)}${"median".padStart(10)}${"95 %".padStart(10)}  goal`);
    for (let turn = 0; turn < 2; ++turn) {
      await page.bringToFront();
      const before = await ourWork();
      const ours = await drag(page, "#note-slider-capstan", "note", drags);
      const cost = ((await ourWork()) - before) / drags;
      const alone = await served(page, path, drags);
      await beside.bringToFront();
      const bareBefore = await theirWork();
      const theirs = await drag(beside, "#slider", "bare", drags);
      const bareCost = ((await theirWork()) - bareBefore) / drags;
      row(`${turn + 1}. what-if answered, drawn and painted while dragging`, ours, "≤ 33 ms");
      row("   of which the answer, over fetch", alone);
      row("   bare page: an answer of equal size from memory, as many shapes", theirs);
      console.log(`   processor time of the page for each: ${cost.toFixed(1)} ms; of the bare page: ${bareCost.toFixed(1)} ms`);
    }
  } finally {
    reference.end();
  }
});
