// Which view is shown: the address behind '#'.
//   #/                        pianos
//   #/devices, #/shop        what belongs to no piano
//   #/p/<piano>/<view>/<note> a view of a piano, the note where it has one
import { computed, signal } from "@preact/signals";

export const viewNames = [
  "readings",
  "brief",
  "worklist",
  "hands",
  "note",
  "complaint",
  "handover",
  "overtime",
  "settings",
] as const;
export type ViewName = (typeof viewNames)[number];
interface OfPiano {
  view: ViewName;
  piano: string;
  note: string | null;
}
/** Views that belong to no piano. */
type Apart = "pianos" | "devices" | "shop";
export type Place = { view: Apart } | OfPiano;

export function readPlace(hash: string): Place {
  const [kind, piano, view, note] = hash
    .replace(/^#?\/?/, "")
    .split("/")
    .map((part) => {
      try {
        return decodeURIComponent(part);
      } catch {
        return "";
      }
    });
  if (kind === "devices" || kind === "shop") return { view: kind };
  if (kind !== "p" || !piano) return { view: "pianos" };
  const known = viewNames.find((name) => name === view);
  return { view: known ?? "worklist", piano, note: note || null };
}
export function writePlace(place: Place): string {
  if (place.view === "pianos") return "#/";
  if (!("piano" in place)) return `#/${place.view}`;
  const note = place.note ? `/${encodeURIComponent(place.note)}` : "";
  return `#/p/${encodeURIComponent(place.piano)}/${place.view}${note}`;
}

const last_piano = "batten.piano";
/** The bare address leads to the piano this browser was at last; "#/" to all of them. */
function firstHash(): string {
  if (typeof location === "undefined") return "";
  if (location.hash !== "") return location.hash;
  try {
    const piano = localStorage.getItem(last_piano);
    if (piano) {
      const hash = writePlace({ view: "worklist", piano, note: null });
      history.replaceState(null, "", hash);
      return hash;
    }
  } catch {
    // No storage: all pianos are shown.
  }
  return "";
}
/** Remembers it, or forgets one that is gone. */
export function rememberPiano(piano: string | null): void {
  try {
    if (piano) localStorage.setItem(last_piano, piano);
    else localStorage.removeItem(last_piano);
  } catch {
    // As above.
  }
}

export const where = signal<Place>(readPlace(firstHash()));
export const view = computed(() => where.value.view);
export const pianoId = computed(() => ("piano" in where.value ? where.value.piano : null));

/** Shows a view of the piano that is open; without one, the pianos. */
export function go(to: ViewName | Apart, note?: string | null): void {
  const piano = pianoId.peek();
  const place: Place =
    to === "pianos" || to === "devices" || to === "shop"
      ? { view: to }
      : piano
        ? { view: to, piano, note: note ?? null }
        : { view: "pianos" };
  location.hash = writePlace(place);
}
export function openPiano(piano: string, to: ViewName = "worklist", note?: string | null): void {
  location.hash = writePlace({ view: to, piano, note: note ?? null });
}
if (typeof addEventListener !== "undefined" && typeof location !== "undefined") {
  addEventListener("hashchange", () => {
    where.value = readPlace(location.hash);
  });
}
