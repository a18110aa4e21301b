// What the server says, as docs/api and data/api-examples have it. Lengths are mm unless said.

export interface Problem {
  happened: string;
  kept: string;
  todo: string;
}

/** An answer, or why there is none. `offline`: the server did not answer at all. */
export type Outcome<T> = { ok: true; value: T } | { ok: false; problem: Problem; status: number; offline: boolean };

/** Numbers by key of the compass, lowest first; null where nothing is known. */
export type Column = (number | null)[];
