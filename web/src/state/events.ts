// What the piano's machine tells without being asked: a stream of events, and whether it is heard.
import { effect, signal, untracked } from "@preact/signals";
import type { Entry } from "../api/entries.ts";
import { onHeard, onSaved, sendNow } from "./entering.ts";
import { link } from "./link.ts";
import { refresh, takeEntries } from "./piano.ts";
import { startSession } from "./session.ts";
import { pianoId } from "./where.ts";

/** Rises when the list of pianos has changed. */
export const pianosChanged = signal(0);

const first_pause = 500; // ms
const longest_pause = 8_000;

let stream: EventSource | null = null;
let pause = first_pause;
let timer: ReturnType<typeof setTimeout> | undefined;

function reopenLater(): void {
  stream?.close();
  stream = null;
  clearTimeout(timer);
  timer = setTimeout(() => {
    // The server may have begun anew, with another token.
    void startSession().then((answer) => (answer.ok ? open(pianoId.peek()) : reopenLater()));
  }, pause);
  pause = Math.min(longest_pause, 2 * pause);
}

function data<T>(event: Event): T | null {
  try {
    return JSON.parse((event as MessageEvent<string>).data) as T;
  } catch {
    return null;
  }
}

function open(piano: string | null): void {
  stream?.close();
  clearTimeout(timer);
  const source = new EventSource(`/api/events${piano ? `?piano=${encodeURIComponent(piano)}` : ""}`);
  stream = source;
  source.onopen = () => {
    const back = link.peek() === "down";
    link.value = "live";
    pause = first_pause;
    sendNow();
    // What was said while nobody listened.
    if (back) {
      void refresh();
      pianosChanged.value++;
    }
  };
  source.onerror = () => {
    if (stream !== source) return;
    link.value = "down";
    reopenLater();
  };
  source.addEventListener("entries", (event) => {
    const told = data<{ piano: string; revision: number; device: string; entries: Entry[] }>(event);
    if (told) takeEntries(told.piano, told, told.device);
  });
  source.addEventListener("changed", (event) => {
    const told = data<{ piano: string; revision: number }>(event);
    // The strip may have been answered with this revision already, and the journal not.
    if (!told || told.piano !== pianoId.peek()) return;
    void refresh();
    void refresh("journal");
  });
  source.addEventListener("pianos", () => {
    pianosChanged.value++;
  });
}

/** Begins to listen, and goes on however often the link drops; once. */
export function startEvents(): void {
  onSaved(takeEntries);
  onHeard((answered) => {
    // A stream may look open long after its other end is gone.
    if (!answered && stream) reopenLater();
  });
  effect(() => {
    const piano = pianoId.value;
    untracked(() => open(piano));
  });
  addEventListener("online", () => {
    if (stream) return;
    pause = 0;
    reopenLater();
    pause = first_pause;
  });
}
