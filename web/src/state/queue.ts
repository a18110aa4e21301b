// Entries on their way: kept first, then sent in their order, each written down exactly once, because
// the identity made here is the entry's own and the server knows it again.
import type { EntriesAnswer, Entered, NewEntry } from "../api/entries.ts";
import type { Outcome } from "../api/types.ts";
import type { Box, Kept } from "./box.ts";

export type Sent = Outcome<EntriesAnswer>;
export interface Surroundings {
  box: Box;
  send: (piano: string, body: { entries: unknown[] }) => Promise<Sent>;
  /** The token is no longer good (the server began anew): gets another; false where that fails. */
  renew: () => Promise<boolean>;
  newId: () => string;
  now: () => number;
  later: (ms: number, act: () => void) => void;
  /** Runs alone among the tabs of this browser, where the browser can see to it. */
  alone?: ((act: () => Promise<void>) => Promise<void>) | undefined;
  /** What is kept has changed; in this tab. */
  changed: (kept: readonly Kept[]) => void;
  /** Acknowledged by the server. */
  saved?: (piano: string, answer: EntriesAnswer) => void;
  heard?: (answered: boolean) => void;
}

const first_pause = 500; // ms
const longest_pause = 15_000;
const patience = 2_000; // ms
const lease_ms = 20_000; // longer than one request may take

/** This browser keeps nothing: a private window, or its disk is full. */
export class NotKept extends Error {}

/** Whether asking again can help: no answer, too busy, or the server itself failed. */
function passing(status: number): boolean {
  return status === 0 || status === 401 || status === 403 || status === 408 || status === 429 || status >= 500;
}

export class Queue {
  #with: Surroundings;
  #me: string;
  #pause = first_pause;
  #retryAsked = false;
  #running: Promise<void> | null = null;
  #again = false;
  /** The server did not answer: when it does it may have begun anew, with another token. */
  #cut = false;
  #answers = new Map<string, EntriesAnswer>();

  constructor(surroundings: Surroundings) {
    this.#with = surroundings;
    this.#me = surroundings.newId();
  }

  /** Keeps, then sends. Rejects with NotKept, nothing having been sent. */
  async enter(piano: string, entries: readonly NewEntry[]): Promise<Entered> {
    const { box, newId, now } = this.#with;
    const group = newId();
    const list = entries.map((entry): Kept => ({ id: newId(), group, piano, at_ms: now(), entry, state: "waiting" }));
    const ids = list.map((kept) => kept.id);
    try {
      await box.add(list);
    } catch {
      throw new NotKept();
    }
    await this.tell();
    // A server that is there but does not answer keeps no hand waiting.
    await Promise.race([this.drain(), new Promise<void>((resolve) => this.#with.later(patience, resolve))]);
    const left = (await box.all()).filter((kept) => kept.group === group);
    const answer = this.#answers.get(group);
    this.#answers.delete(group);
    const refused = left.find((kept) => kept.problem);
    if (refused?.problem) return { state: "refused", ids, problem: refused.problem };
    if (left.length > 0) return { state: "waiting", ids };
    return { state: "saved", ids, entries: answer?.entries ?? [] };
  }

  /** Sends what waits, unless the server is silent; one run at a time. */
  async drain(): Promise<void> {
    // An entry added while a run is on its way may have been missed by it.
    this.#again = true;
    this.#running ??= this.#runs().finally(() => {
      this.#running = null;
    });
    await this.#running;
  }

  async #runs(): Promise<void> {
    const { alone } = this.#with;
    while (this.#again) {
      this.#again = false;
      if (alone) await alone(() => this.#run());
      else await this.#runOnLease();
    }
  }

  async #runOnLease(): Promise<void> {
    const { box, now } = this.#with;
    if (!(await box.lease(this.#me, now(), now() + lease_ms))) {
      this.#retry();
      return;
    }
    try {
      await this.#run(() => box.lease(this.#me, now(), now() + lease_ms));
    } finally {
      await box.release(this.#me);
    }
  }

  async #run(renewLease?: () => Promise<boolean>): Promise<void> {
    const { box } = this.#with;
    let renewed = false;
    for (;;) {
      const waiting = (await box.all()).filter((kept) => kept.state === "waiting");
      const next = waiting[0];
      if (!next) break;
      if (renewLease && !(await renewLease())) break;
      if (this.#cut) {
        if (!(await this.#with.renew())) {
          this.#retry();
          break;
        }
        this.#cut = false;
      }
      const group = waiting.filter((kept) => kept.group === next.group);
      const body = { entries: group.map((kept) => ({ id: kept.id, at_ms: kept.at_ms, ...kept.entry })) };
      const sent = await this.#with.send(next.piano, body);
      this.#with.heard?.(sent.ok || !sent.offline);
      if (sent.ok) {
        this.#pause = first_pause;
        this.#answers.set(next.group, sent.value);
        await box.remove(group);
        this.#with.saved?.(next.piano, sent.value);
      } else if ((sent.status === 401 || sent.status === 403) && !renewed && (await this.#with.renew())) {
        renewed = true;
        continue;
      } else if (sent.offline || passing(sent.status)) {
        this.#cut = sent.offline;
        this.#retry();
        break;
      } else {
        await box.put(group.map((kept) => ({ ...kept, state: "refused", problem: sent.problem })));
      }
      renewed = false;
      await this.tell();
    }
    await this.tell();
  }

  #retry(): void {
    if (this.#retryAsked) return;
    this.#retryAsked = true;
    const pause = this.#pause;
    this.#pause = Math.min(longest_pause, 2 * this.#pause);
    this.#with.later(pause, () => {
      this.#retryAsked = false;
      void this.drain();
    });
  }

  /** Gives up an entry that was refused, and those entered together with it. */
  async discard(id: string): Promise<Kept[]> {
    const all = await this.#with.box.all();
    const group = all.find((kept) => kept.id === id && kept.state === "refused")?.group;
    const gone = all.filter((kept) => kept.group === group && kept.state === "refused");
    await this.#with.box.remove(gone);
    await this.tell();
    return gone;
  }

  /** Says what is kept, after another tab changed it as well. */
  async tell(): Promise<void> {
    this.#with.changed(await this.#with.box.all());
  }
}
