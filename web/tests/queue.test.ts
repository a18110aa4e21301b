// The offline queue against a server that fails in every way a server can: what is entered is written
// down exactly once, in order, or is still kept here.
import "fake-indexeddb/auto";
import assert from "node:assert/strict";
import { test } from "node:test";
import type { Entry, NewEntry } from "../src/api/entries.ts";
import { Box, type Kept } from "../src/state/box.ts";
import { newId } from "../src/state/entering.ts";
import { NotKept, Queue, type Sent, type Surroundings } from "../src/state/queue.ts";

const piano = "p1";
const blow = (note: string, value: string): NewEntry => ({ kind: "reading", reading: "blow", note, value });
type Body = { entries: { id: string; value?: string }[] };

/** Writes down what it gets, each identity once, as the store does. */
class Server {
  journal: { id: string; value: string }[] = [];
  requests = 0;
  token = "good";
  /** What happens to the next requests, in turn; then all is well. */
  next: ("lost" | "silent" | "busy" | "stale token" | "held")[] = [];
  release: () => void = () => undefined;

  async take(body: Body): Promise<Sent> {
    this.requests++;
    const fate = this.next.shift();
    const problem = { happened: "It failed.", kept: "", todo: "" };
    const silent: Sent = { ok: false, problem, status: 0, offline: true };
    if (fate === "silent") return silent;
    if (fate === "busy") return { ok: false, problem, status: 503, offline: false };
    if (fate === "held") await new Promise<void>((resolve) => (this.release = resolve));
    if (fate === "stale token" || this.token !== "good") return { ok: false, problem, status: 403, offline: false };
    if (body.entries.some((entry) => entry.value === "999")) {
      return { ok: false, problem: { ...problem, happened: "999 mm is no blow." }, status: 400, offline: false };
    }
    let there = 0;
    for (const { id, value } of body.entries) {
      if (this.journal.some((kept) => kept.id === id)) there++;
      else this.journal.push({ id, value: value ?? "" });
    }
    if (fate === "lost") return silent;
    const entries = body.entries.map((entry) => ({ ...entry }) as unknown as Entry);
    return { ok: true, value: { revision: this.journal.length, entries, already_there: there } };
  }
}

class Clock {
  waiting: (() => void)[] = [];
  /** Lets what was put off happen, and what comes of it. */
  async ring(): Promise<void> {
    const list = this.waiting.splice(0);
    for (const act of list) act();
    await settled();
  }
}
const settled = async () => {
  for (let i = 0; i < 60; i++) await new Promise((resolve) => setImmediate(resolve));
};

let names = 0;
const freshName = () => `box-${++names}`;
interface Tab {
  queue: Queue;
  clock: Clock;
  kept: () => readonly Kept[];
}
function tab(server: Server, name: string, more: Partial<Surroundings> = {}): Tab {
  const clock = new Clock();
  let kept: readonly Kept[] = [];
  const queue = new Queue({
    box: new Box(indexedDB, name),
    send: (_, body) => server.take(body as Body),
    renew: async () => {
      server.token = "good";
      return true;
    },
    newId,
    now: () => 1_764_115_200_000,
    later: (ms, act) => {
      // The patience with a silent server is not what is tried here.
      if (ms !== 2_000) clock.waiting.push(act);
    },
    changed: (list) => {
      kept = list;
    },
    ...more,
  });
  return { queue, clock, kept: () => kept };
}
const values = (server: Server) => server.journal.map((entry) => entry.value);

test("an entry is saved, and nothing is left here", async () => {
  const server = new Server();
  const one = tab(server, freshName());
  const entered = await one.queue.enter(piano, [blow("C4", "45.2")]);
  assert.equal(entered.state, "saved");
  assert.deepEqual(values(server), ["45.2"]);
  assert.equal(one.kept().length, 0);
});

test("the server dies after receiving and before answering: written once", async () => {
  const server = new Server();
  server.next = ["lost"];
  const one = tab(server, freshName());
  const entered = await one.queue.enter(piano, [blow("C4", "45.2")]);
  assert.equal(entered.state, "waiting");
  assert.equal(one.kept().length, 1);
  await one.clock.ring();
  assert.equal(one.kept().length, 0);
  assert.equal(server.requests, 2);
  assert.deepEqual(values(server), ["45.2"]);
});

test("silent for a while: kept in order, sent in order, retried by itself", async () => {
  const server = new Server();
  server.next = ["silent", "silent", "silent", "busy"];
  const one = tab(server, freshName());
  await one.queue.enter(piano, [blow("C4", "1")]);
  await one.queue.enter(piano, [blow("D4", "2")]);
  await one.queue.enter(piano, [blow("E4", "3")]);
  assert.equal(one.kept().length, 3);
  await one.clock.ring();
  await one.clock.ring();
  assert.deepEqual(values(server), ["1", "2", "3"]);
  assert.equal(one.kept().length, 0);
});

test("a reload in the middle: the next page sends what the last one kept", async () => {
  const server = new Server();
  const name = freshName();
  server.next = ["silent", "lost"];
  const before = tab(server, name);
  await before.queue.enter(piano, [blow("C4", "1")]);
  await before.queue.enter(piano, [blow("D4", "2")]);
  const after = tab(server, name);
  await after.queue.tell();
  assert.equal(after.kept().length, 2);
  await after.queue.drain();
  assert.deepEqual(values(server), ["1", "2"]);
  assert.equal(after.kept().length, 0);
});

test("a reload while a request is on its way: written once", async () => {
  const server = new Server();
  const name = freshName();
  server.next = ["held"];
  const before = tab(server, name, { now: () => 0 });
  void before.queue.enter(piano, [blow("C4", "1")]);
  await settled();
  // The killed page's lease has run out.
  const after = tab(server, name, { now: () => 60_000 });
  await after.queue.drain();
  server.release();
  await settled();
  assert.deepEqual(values(server), ["1"]);
  assert.equal(after.kept().length, 0);
});

test("two tabs with a lease: one sends at a time, everything once and in order", async () => {
  const server = new Server();
  const name = freshName();
  server.next = ["held"];
  const left = tab(server, name);
  const right = tab(server, name);
  const first = left.queue.enter(piano, [blow("C4", "1")]);
  await settled();
  const second = right.queue.enter(piano, [blow("D4", "2")]);
  await settled();
  assert.equal(server.requests, 1, "the other tab waits");
  server.release();
  assert.equal((await first).state, "saved");
  await second;
  await right.clock.ring();
  await left.queue.drain();
  assert.deepEqual(values(server), ["1", "2"]);
});

test("two tabs with the browser's locks", async () => {
  const server = new Server();
  const name = freshName();
  let last: Promise<void> = Promise.resolve();
  const alone = (act: () => Promise<void>) => (last = last.then(act));
  const left = tab(server, name, { alone });
  const right = tab(server, name, { alone });
  const entered = await Promise.all([
    left.queue.enter(piano, [blow("C4", "1")]),
    right.queue.enter(piano, [blow("D4", "2")]),
  ]);
  assert.deepEqual(
    entered.map((one) => one.state),
    ["saved", "saved"],
  );
  assert.deepEqual(values(server).sort(), ["1", "2"]);
});

test("one refused in the middle: the others are sent, it is kept with its sentence until discarded", async () => {
  const server = new Server();
  server.next = ["silent", "silent", "silent"];
  const one = tab(server, freshName());
  await one.queue.enter(piano, [blow("C4", "1")]);
  await one.queue.enter(piano, [blow("D4", "999")]);
  await one.queue.enter(piano, [blow("E4", "3")]);
  await one.clock.ring();
  assert.deepEqual(values(server), ["1", "3"]);
  const [refused] = one.kept();
  assert.equal(refused?.state, "refused");
  assert.equal(refused?.problem?.happened, "999 mm is no blow.");
  await one.queue.drain();
  assert.equal(server.journal.length, 2, "a refused entry is not sent again");
  await one.queue.discard(refused!.id);
  assert.equal(one.kept().length, 0);
});

test("refused at once: said so to whoever entered it", async () => {
  const server = new Server();
  const one = tab(server, freshName());
  const entered = await one.queue.enter(piano, [blow("C4", "45"), blow("D4", "999")]);
  assert.equal(entered.state, "refused");
  assert.deepEqual(values(server), [], "all or none");
  assert.equal(one.kept().length, 2);
});

test("the server began anew with another token: renewed, sent, written once", async () => {
  const server = new Server();
  server.token = "another";
  const one = tab(server, freshName());
  assert.equal((await one.queue.enter(piano, [blow("C4", "1")])).state, "saved");
  assert.deepEqual(values(server), ["1"]);
});

test("a device that was sent away keeps its entries", async () => {
  const server = new Server();
  server.token = "another";
  const one = tab(server, freshName(), { renew: async () => false });
  assert.equal((await one.queue.enter(piano, [blow("C4", "1")])).state, "waiting");
  assert.equal(one.kept().length, 1);
});

test("a browser that keeps nothing says so before anything is sent", async () => {
  const server = new Server();
  const broken = {
    open: () => {
      throw new Error("no room");
    },
  } as unknown as IDBFactory;
  assert.throws(() => new Box(broken));
  const box = new Box(indexedDB, freshName());
  box.add = () => Promise.reject(new Error("no room"));
  const one = tab(server, freshName(), { box });
  await assert.rejects(one.queue.enter(piano, [blow("C4", "1")]), NotKept);
  assert.equal(server.requests, 0);
});

test("identities are version 4 and differ", () => {
  const ids = new Set(Array.from({ length: 1000 }, newId));
  assert.equal(ids.size, 1000);
  // RFC 9562, 5.4: version 4, variant 10.
  for (const id of ids) assert.match(id, /^[0-9a-f]{8}-[0-9a-f]{4}-4[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/);
});
