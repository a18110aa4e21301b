// The server over HTTP.
import type { Outcome, Problem } from "./types.ts";

let token = "";
/** The token every writing request carries; told by the session. */
export function useToken(value: string): void {
  token = value;
}

const silent: Problem = {
  happened: "The server does not answer.",
  kept: "",
  todo: "Check that it is running; entries are kept here meanwhile.",
};

async function ask<T>(path: string, init: RequestInit): Promise<Outcome<T>> {
  let answer: Response;
  try {
    answer = await fetch(path, { ...init, credentials: "same-origin", cache: "no-store" });
  } catch {
    return { ok: false, problem: silent, status: 0, offline: true };
  }
  const body: unknown = await answer.json().catch(() => null);
  if (answer.ok && body !== null) return { ok: true, value: body as T };
  const told = (body as { problem?: Problem } | null)?.problem;
  return { ok: false, problem: told ?? { ...silent, happened: `The server answered ${answer.status}.` }, status: answer.status, offline: false };
}

export const get = <T>(path: string, signal?: AbortSignal) => ask<T>(path, signal ? { signal } : {});
export const post = <T>(path: string, body: unknown, signal?: AbortSignal) =>
  ask<T>(path, {
    method: "POST",
    headers: { "Content-Type": "application/json", "X-Batten-Token": token },
    body: JSON.stringify(body),
    ...(signal ? { signal } : {}),
  });
