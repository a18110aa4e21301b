// What was read at a note, newest first: of two readings of the same thing the later counts, and both
// are kept and shown.
import type { ReadingEntry } from "../api/entries.ts";
import { notePrinted } from "../quantities/notes.ts";
import { showReading } from "../quantities/show.ts";
import { readKept } from "../quantities/read.ts";
import { datesAs } from "../state/choices.ts";
import { waitingEntries } from "../state/entering.ts";
import { journal, pianoId } from "../state/piano.ts";
import { t, tReading } from "../words/index.ts";

interface Line {
  id: string;
  reading: string;
  value: number | null;
  at: Date;
  where: string;
  state: "counts" | "earlier" | "taken_back" | "waiting";
}

function linesOf(note: string, only: string | undefined): Line[] {
  const undone = new Set(journal.value.flatMap((entry) => (entry.kind === "undo" ? [entry.entry] : [])));
  const list: Line[] = [];
  const counted = new Set<string>();
  for (const kept of [...waitingEntries.value].reverse()) {
    const { entry } = kept;
    if (kept.piano !== pianoId.value || entry.kind !== "reading" || entry.note !== note) continue;
    if (only && entry.reading !== only) continue;
    const typed = typeof entry.value === "number" ? null : readKept(entry.value, entry.reading);
    const value = typeof entry.value === "number" ? entry.value : typed?.ok ? typed.value : null;
    list.push({
      id: kept.id,
      reading: entry.reading,
      value,
      at: new Date(kept.at_ms),
      where: t("strip.readings.this"),
      state: "waiting",
    });
  }
  const known = new Set(list.map((one) => one.id));
  const readings = journal.value.filter(
    (entry): entry is ReadingEntry => entry.kind === "reading" && entry.note === note,
  );
  for (const entry of readings.sort((a, b) => b.at.localeCompare(a.at))) {
    if (known.has(entry.id) || (only && entry.reading !== only)) continue;
    const back = undone.has(entry.id) || entry.in_force === false;
    const state = back ? "taken_back" : counted.has(entry.reading) ? "earlier" : "counts";
    if (!back) counted.add(entry.reading);
    list.push({
      id: entry.id,
      reading: entry.reading,
      value: entry.value,
      at: new Date(entry.at),
      where: entry.device || entry.who || t("strip.readings.here"),
      state,
    });
  }
  return list;
}

interface Props {
  note: string;
  /** One reading's code. */
  only?: string;
  /** Only what was read more than once; nothing is drawn where nothing was. */
  repeated?: boolean;
  most?: number;
}

export function NoteReadings({ note, only, repeated, most = 6 }: Props) {
  const all = linesOf(note, only);
  const list = repeated
    ? all.filter((line) => all.some((other) => other !== line && other.reading === line.reading))
    : all;
  if (repeated && list.length === 0) return null;
  const again = list.some((line) => line.state === "earlier");
  const time = new Intl.DateTimeFormat(datesAs.value, {
    day: "numeric",
    month: "short",
    hour: "2-digit",
    minute: "2-digit",
  });
  return (
    <section class="note-readings">
      <h2>{t("strip.readings", { note: notePrinted(note) })}</h2>
      {list.length === 0 && <p class="quiet">{t("strip.readings.none")}</p>}
      {again && <p class="quiet">{t("strip.readings.later")}</p>}
      <ul class="plain-list">
        {list.slice(0, most).map((line) => (
          <li key={line.id}>
            {!only && `${tReading(line.reading)} `}
            <strong class="number">{showReading(line.reading, line.value)}</strong>{" "}
            <span class="quiet">
              {line.where}, {time.format(line.at)} – {t(`strip.readings.${line.state}`)}
            </span>
          </li>
        ))}
      </ul>
    </section>
  );
}
