// A journey: a server, a browser, steps that are named; what fails leaves a picture and the console.
import { mkdir, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { chromium, type Browser, type BrowserContext, type BrowserContextOptions, type Page } from "playwright-core";
import { Server } from "./server.ts";

export { Server } from "./server.ts";
export type { Page } from "playwright-core";

export const sizes = {
  phone: { width: 390, height: 844 },
  tablet: { width: 820, height: 1180 },
  laptop: { width: 1280, height: 800 },
} as const;
export type Size = keyof typeof sizes;

export class Failed extends Error {}
export function expect(holds: unknown, saying: string): asserts holds {
  if (!holds) throw new Failed(saying);
}
export function equal<T>(found: T, wanted: T, what: string): void {
  if (found !== wanted) throw new Failed(`${what}: ${JSON.stringify(found)}, expected ${JSON.stringify(wanted)}`);
}

/** Asks again until it holds; `cap_ms` is generous, so that a busy machine fails nothing. */
export async function until<T>(what: string, ask: () => Promise<T | null | undefined | false>, cap_ms = 20_000): Promise<T> {
  const began = Date.now();
  for (;;) {
    const found = await ask();
    if (found) return found;
    if (Date.now() - began > cap_ms) throw new Failed(`Waited ${cap_ms / 1000} s in vain: ${what}`);
    await new Promise((go) => setTimeout(go, 25));
  }
}

interface Open {
  size?: Size | { width: number; height: number };
  touch?: boolean;
  dark?: boolean;
  language?: "en" | "de";
  inches?: boolean;
  still?: boolean;
  zoom?: number;
  context?: BrowserContext;
}

export class Journey {
  #name: string;
  #browser: Browser | null = null;
  #pages: { page: Page; console: string[]; wrong: string[] }[] = [];
  #allowed: RegExp[] = [];
  #servers: Server[] = [];
  at = "";

  constructor(name: string) {
    this.#name = name;
  }

  async server(what: "empty" | "demo"): Promise<Server> {
    const server = await Server.start(what);
    this.#servers.push(server);
    return server;
  }

  async browser(): Promise<Browser> {
    this.#browser ??= await chromium.launch({
      executablePath: process.env["CHROMIUM"] ?? "/usr/bin/chromium",
      args: [
        "--headless",
        "--no-sandbox",
        "--disable-gpu",
        "--disable-quic",
        "--no-first-run",
        "--disable-background-networking",
        "--disable-component-update",
        "--disable-sync",
      ],
    });
    return this.#browser;
  }

  /** A page of a browser that has nothing to do with the others: its own storage. */
  async page(options: Open = {}): Promise<Page> {
    const viewport = typeof options.size === "object" ? options.size : sizes[options.size ?? "laptop"];
    const zoom = options.zoom ?? 1;
    const settings: BrowserContextOptions = {
      // A browser zoomed by two has half the CSS pixels, each of two device pixels.
      viewport: { width: Math.round(viewport.width / zoom), height: Math.round(viewport.height / zoom) },
      deviceScaleFactor: zoom,
      hasTouch: options.touch ?? false,
      isMobile: options.touch ?? false,
      colorScheme: options.dark ? "dark" : "light",
      reducedMotion: options.still ? "reduce" : "no-preference",
      locale: options.language === "de" ? "de-DE" : "en-GB",
      timezoneId: "Europe/Berlin",
    };
    const context = options.context ?? (await (await this.browser()).newContext(settings));
    context.setDefaultTimeout(20_000);
    if (options.inches) await context.addInitScript(() => localStorage.setItem("batten.unit", "in"));
    const page = await context.newPage();
    const watch = { page, console: [] as string[], wrong: [] as string[] };
    page.on("console", (message) => {
      const line = `${message.type()}: ${message.text()} (${message.location().url})`;
      watch.console.push(line);
      if (message.type() === "error") watch.wrong.push(line);
    });
    page.on("pageerror", (error) => watch.wrong.push(`thrown: ${error.stack ?? error.message}`));
    this.#pages.push(watch);
    return page;
  }

  /** Errors that this journey brings about itself: a server that is killed is not found. */
  allow(...kinds: RegExp[]): void {
    this.#allowed.push(...kinds);
  }
  checkConsoles(): void {
    for (const { wrong } of this.#pages) {
      const left = wrong.filter((line) => !this.#allowed.some((kind) => kind.test(line)));
      expect(left.length === 0, `The browser's console has errors:\n  ${left.slice(0, 8).join("\n  ")}`);
    }
  }

  async step<T>(what: string, act: () => Promise<T>): Promise<T> {
    this.at = what;
    const began = Date.now();
    const done = await act();
    this.checkConsoles();
    console.log(`  ${((Date.now() - began) / 1000).toFixed(1).padStart(5)} s  ${what}`);
    return done;
  }

  async leaveTraces(): Promise<string> {
    const folder = join(process.env["BATTEN_TRACES"] ?? join(tmpdir(), "batten-browser-failed"), this.#name);
    await mkdir(folder, { recursive: true });
    let count = 0;
    for (const { page, console: lines, wrong } of this.#pages) {
      const file = join(folder, `page-${++count}`);
      await writeFile(`${file}.log`, [page.isClosed() ? "(closed)" : page.url(), ...lines, ...wrong].join("\n"));
      if (!page.isClosed()) await page.screenshot({ path: `${file}.png`, timeout: 5_000 }).catch(() => undefined);
    }
    for (const server of this.#servers) await writeFile(join(folder, "server.log"), server.log);
    return folder;
  }

  async end(): Promise<void> {
    await this.#browser?.close().catch(() => undefined);
    for (const server of this.#servers) await server.stop();
  }
}

/** Runs a journey by itself; the process ends with 0 only when every step held. */
export async function journey(name: string, act: (journey: Journey) => Promise<void>): Promise<void> {
  const it = new Journey(name);
  const began = Date.now();
  let failed = false;
  const interrupted = () => void it.end().then(() => process.exit(130));
  process.once("SIGINT", interrupted);
  process.once("SIGTERM", interrupted);
  try {
    console.log(name);
    await act(it);
    it.checkConsoles();
  } catch (failure) {
    failed = true;
    console.error(`Failed at: ${it.at}`);
    console.error(failure instanceof Failed ? failure.message : failure);
    console.error(`Picture and console: ${await it.leaveTraces()}`);
  }
  await it.end();
  console.log(`${failed ? "FAILED" : "held"} after ${((Date.now() - began) / 1000).toFixed(1)} s`);
  process.exit(failed ? 1 : 0);
}
