// Who this browser is to the piano's machine.
import { signal } from "@preact/signals";
import { get, useToken } from "../api/client.ts";
import type { Catalogue, Outcome, Session } from "../api/types.ts";
import { link } from "./link.ts";

export const session = signal<Session | null>(null);
/** The server knows neither this machine nor this device. */
export const unpaired = signal(false);
export const catalogue = signal<Catalogue | null>(null);

/** Asks for the session and its token; false where the server does not answer or does not know us. */
export async function startSession(): Promise<Outcome<Session>> {
  const answer = await get<Session>("/api/session");
  if (answer.ok) {
    useToken(answer.value.token);
    session.value = answer.value;
    unpaired.value = false;
  } else if (answer.offline) {
    link.value = "down";
  } else if (answer.status === 401) {
    unpaired.value = true;
  }
  return answer;
}

export async function loadCatalogue(): Promise<void> {
  if (catalogue.peek()) return;
  const answer = await get<Catalogue>("/api/catalogue");
  if (answer.ok) catalogue.value = answer.value;
  else if (answer.offline) setTimeout(() => void loadCatalogue(), 2_000);
}
