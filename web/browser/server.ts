// The program under test: `batten serve` on a store of its own, ended by the process it began.
import { execFile, spawn, type ChildProcess } from "node:child_process";
import { existsSync } from "node:fs";
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { promisify } from "node:util";

declare const REPOSITORY: string;
export const repository = REPOSITORY;
const run = promisify(execFile);

/** $BATTEN, or what was built last of the usual places. */
export function findBatten(): string {
  const given = process.env["BATTEN"];
  const places = given ? [given] : ["release", "measure"].map((preset) => join(repository, "build", preset, "batten"));
  const found = places.find((place) => existsSync(place));
  if (!found) throw new Error(`There is no program at ${places.join(" or ")}. Build it, or say where it is in BATTEN.`);
  return found;
}

export interface HistoryEntry {
  id: string;
  kind: string;
  in_force: boolean;
  reading?: string;
  note?: string | null;
  value?: number;
  typed?: string;
  adjuster?: string;
  amount?: number;
}

export class Server {
  url = "";
  #folder = "";
  #child: ChildProcess | null = null;
  #port = 0;
  log = "";

  /** `demo`: the demo piano, mid-job. */
  static async start(what: "empty" | "demo"): Promise<Server> {
    const server = new Server();
    server.#folder = await mkdtemp(join(tmpdir(), "batten-browser-"));
    if (what === "demo") await server.batten("demo");
    await server.begin();
    return server;
  }

  get store(): string {
    return join(this.#folder, "journal.store");
  }
  /** The command line on the same store. */
  async batten(...words: string[]): Promise<string> {
    const { stdout } = await run(findBatten(), ["--store", this.store, ...words], { maxBuffer: 1 << 26 });
    return stdout;
  }
  async history(): Promise<HistoryEntry[]> {
    return (JSON.parse(await this.batten("history", "--json")) as { entries: HistoryEntry[] }).entries;
  }

  /** Begins on the port it had before, so that open pages find it again. */
  async begin(): Promise<void> {
    // While the front end is worked on: a folder to take it from in place of the one compiled in.
    const web = process.env["BATTEN_WEB"];
    const words = ["--store", this.store, "serve", "--port", String(this.#port), ...(web ? ["--web", web] : [])];
    const child = spawn(findBatten(), words, {
      stdio: ["ignore", "pipe", "pipe"],
    });
    this.#child = child;
    const address = await new Promise<string>((resolve, reject) => {
      const limit = setTimeout(() => reject(new Error(`The server told no address in 20 s.\n${this.log}`)), 20_000);
      const heard = (data: Buffer) => {
        this.log += data.toString();
        const found = /http:\/\/(?:127\.0\.0\.1|localhost|\[::1\]):(\d+)\S*/.exec(this.log.slice(from));
        if (!found) return;
        clearTimeout(limit);
        this.#port = Number(found[1]);
        resolve(new URL(found[0]).origin);
      };
      const from = this.log.length;
      child.stdout?.on("data", heard);
      child.stderr?.on("data", heard);
      child.once("exit", (code) => reject(new Error(`The server ended with ${code}.\n${this.log}`)));
    });
    this.url = address;
  }

  async #end(signal: NodeJS.Signals): Promise<void> {
    const child = this.#child;
    this.#child = null;
    if (!child || child.exitCode !== null || child.signalCode !== null) return;
    const gone = new Promise<void>((resolve) => child.once("exit", () => resolve()));
    child.kill(signal);
    const late = setTimeout(() => child.kill("SIGKILL"), 5_000);
    await gone;
    clearTimeout(late);
  }
  /** As a power cut ends it. */
  async kill(): Promise<void> {
    await this.#end("SIGKILL");
  }
  async stop(): Promise<void> {
    await this.#end("SIGTERM");
    if (this.#folder) await rm(this.#folder, { recursive: true, force: true });
  }
}
