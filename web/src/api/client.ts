// The server over HTTP.
import { t } from "../words/index.ts";
import type { Outcome, Problem } from "./types.ts";

let token = "";
/** The token every writing request carries; told by the session. */
export function useToken(value: string): void {
  token = value;
}

const silent = (): Problem => ({
  happened: t("problem.silent"),
  kept: t("problem.silent.kept"),
  todo: t("problem.silent.todo"),
});

async function ask<T>(path: string, init: RequestInit): Promise<Outcome<T>> {
  let answer: Response;
  try {
    answer = await fetch(path, { ...init, credentials: "same-origin", cache: "no-store" });
  } catch {
    return { ok: false, problem: silent(), status: 0, offline: true };
  }
  const body: unknown = await answer.json().catch(() => null);
  if (answer.ok && body !== null) return { ok: true, value: body as T };
  const told = (body as { problem?: Problem } | null)?.problem;
  return {
    ok: false,
    problem: told ? { ...told, lang: "en" } : { ...silent(), happened: t("problem.status", { status: answer.status }) },
    status: answer.status,
    offline: false,
  };
}

export const get = <T>(path: string, signal?: AbortSignal) => ask<T>(path, signal ? { signal } : {});
export const post = <T>(path: string, body: unknown, signal?: AbortSignal) =>
  ask<T>(path, {
    method: "POST",
    headers: { "Content-Type": "application/json", "X-Batten-Token": token },
    body: JSON.stringify(body),
    ...(signal ? { signal } : {}),
  });
