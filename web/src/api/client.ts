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

/** What `read` makes of an answer; null where it can make nothing of it. */
async function ask<T>(path: string, init: RequestInit, read: (answer: Response) => Promise<T | null>): Promise<Outcome<T>> {
  let answer: Response;
  let value: T | null;
  try {
    answer = await fetch(path, { ...init, credentials: "same-origin", cache: "no-store" });
    value = answer.ok ? await read(answer).catch(() => null) : null;
  } catch {
    return { ok: false, problem: silent(), status: 0, offline: true };
  }
  if (value !== null) return { ok: true, value };
  const body: unknown = await answer.json().catch(() => null);
  const told = (body as { problem?: Problem } | null)?.problem;
  return {
    ok: false,
    problem: told ? { ...told, lang: "en" } : { ...silent(), happened: t("problem.status", { status: answer.status }) },
    status: answer.status,
    offline: false,
    body,
  };
}

async function json<T>(answer: Response): Promise<T | null> {
  return (await answer.json()) as T | null;
}

export const get = <T>(path: string, signal?: AbortSignal) => ask<T>(path, signal ? { signal } : {}, json<T>);
export const post = <T>(path: string, body: unknown, signal?: AbortSignal) =>
  ask<T>(
    path,
    {
      method: "POST",
      headers: { "Content-Type": "application/json", "X-Batten-Token": token },
      body: JSON.stringify(body),
      ...(signal ? { signal } : {}),
    },
    json<T>,
  );
/** Bytes as they are, with their own media type. */
export const put = <T>(path: string, body: Blob) =>
  ask<T>(path, { method: "PUT", headers: { "Content-Type": body.type, "X-Batten-Token": token }, body }, json<T>);

export const postFile = <T>(path: string, body: Blob) =>
  ask<T>(path, { method: "POST", headers: { "Content-Type": "application/json", "X-Batten-Token": token }, body }, json<T>);

export const remove = <T>(path: string) => ask<T>(path, { method: "DELETE", headers: { "X-Batten-Token": token } }, json<T>);

/** A file that is made for the asking: a page, a drawing. */
export interface GotFile {
  /** As the server calls it, else the path's last part. */
  name: string;
  blob: Blob;
}
export const getFile = (path: string, signal?: AbortSignal) =>
  ask<GotFile>(path, signal ? { signal } : {}, async (answer) => {
    const said = answer.headers.get("Content-Disposition") ?? "";
    const named = /filename\*=UTF-8''([^;]+)/.exec(said)?.[1];
    return { name: named ? decodeURIComponent(named) : path.replace(/\?.*/, "").replace(/.*\//, ""), blob: await answer.blob() };
  });
