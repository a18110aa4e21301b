// What this browser keeps until the piano's machine has it: IndexedDB, so that a reload, a kill or an
// empty battery loses nothing.
import type { NewEntry } from "../api/entries.ts";
import type { Problem } from "../api/types.ts";

/** One entry on its way. Groups were entered together and are written down all or none. */
export interface Kept {
  /** Rises in the order of entering. */
  seq?: number;
  id: string;
  group: string;
  piano: string;
  at_ms: number;
  entry: NewEntry;
  state: "waiting" | "refused";
  problem?: Problem;
}
interface Lease {
  name: string;
  owner: string;
  until: number;
}

const done = <T>(request: IDBRequest<T>): Promise<T> =>
  new Promise((resolve, reject) => {
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error);
  });
const finished = (transaction: IDBTransaction): Promise<void> =>
  new Promise((resolve, reject) => {
    transaction.oncomplete = () => resolve();
    transaction.onerror = () => reject(transaction.error);
    transaction.onabort = () => reject(transaction.error);
  });

export class Box {
  #db: Promise<IDBDatabase>;

  constructor(factory: IDBFactory, name = "batten") {
    const open = factory.open(name, 1);
    open.onupgradeneeded = () => {
      open.result.createObjectStore("entries", { keyPath: "seq", autoIncrement: true });
      open.result.createObjectStore("lease", { keyPath: "name" });
    };
    this.#db = done(open);
    // Told where it is used.
    this.#db.catch(() => undefined);
  }

  async #change(store: "entries" | "lease", act: (store: IDBObjectStore) => void): Promise<void> {
    const transaction = (await this.#db).transaction(store, "readwrite", { durability: "strict" });
    const over = finished(transaction);
    act(transaction.objectStore(store));
    await over;
  }

  /** On disk when it returns; rejects where this browser keeps nothing. */
  add(list: readonly Kept[]): Promise<void> {
    return this.#change("entries", (store) => {
      for (const kept of list) store.add(kept);
    });
  }
  /** All of them, in the order of entering. */
  async all(): Promise<Kept[]> {
    return done((await this.#db).transaction("entries").objectStore("entries").getAll() as IDBRequest<Kept[]>);
  }
  remove(list: readonly Kept[]): Promise<void> {
    return this.#change("entries", (store) => {
      for (const kept of list) if (kept.seq !== undefined) store.delete(kept.seq);
    });
  }
  put(list: readonly Kept[]): Promise<void> {
    return this.#change("entries", (store) => {
      for (const kept of list) store.put(kept);
    });
  }

  /** Takes or renews the right to send, until `until`; false while another has it. */
  async lease(owner: string, now: number, until: number): Promise<boolean> {
    let mine = false;
    await this.#change("lease", (store) => {
      const found = store.get("send") as IDBRequest<Lease | undefined>;
      found.onsuccess = () => {
        const held = found.result;
        mine = !held || held.owner === owner || held.until <= now;
        if (mine) store.put({ name: "send", owner, until } satisfies Lease);
      };
    });
    return mine;
  }
  release(owner: string): Promise<void> {
    return this.#change("lease", (store) => {
      const found = store.get("send") as IDBRequest<Lease | undefined>;
      found.onsuccess = () => {
        if (found.result?.owner === owner) store.delete("send");
      };
    });
  }

  async close(): Promise<void> {
    (await this.#db).close();
  }
}
