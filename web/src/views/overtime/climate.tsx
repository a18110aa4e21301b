// The room the piano stands in: what is said of it, and what was read.
import type { DriftGrounds } from "../../api/drift_types.ts";
import type { ReadingEntry } from "../../api/entries.ts";
import { showDay } from "../../quantities/days.ts";
import { showReading } from "../../quantities/show.ts";
import { journal, pianoId, settingOf } from "../../state/piano.ts";
import { writePlace } from "../../state/where.ts";
import { capital } from "../../words/capital.ts";
import { t, tReading } from "../../words/index.ts";

const most = 12; // lines

/** Readings of the air that count, newest first. */
export function airRead(): ReadingEntry[] {
  const undone = new Set(journal.value.flatMap((entry) => (entry.kind === "undo" ? [entry.entry] : [])));
  return journal.value
    .filter((entry): entry is ReadingEntry => entry.kind === "reading" && (entry.reading === "humidity" || entry.reading === "temperature"))
    .filter((entry) => entry.in_force !== false && !undone.has(entry.id))
    .sort((a, b) => b.at.localeCompare(a.at));
}

export function Climate({ known }: { known: DriftGrounds }) {
  const piano = pianoId.value;
  const said = settingOf("climate");
  const days = new Map<string, ReadingEntry[]>();
  for (const entry of airRead()) {
    const day = showDay(entry.at);
    days.set(day, [...(days.get(day) ?? []), entry]);
  }
  return (
    <section class="card stack" aria-labelledby="overtime-climate">
      <h2 id="overtime-climate">{t("overtime.climate")}</h2>
      {said ? (
        <p>{t("overtime.climate.said", { said })}</p>
      ) : (
        <p>{t(known.humidities > 1 ? "overtime.climate.learned" : "overtime.climate.usual")}</p>
      )}
      {days.size === 0 ? (
        <p>{t("overtime.climate.none")}</p>
      ) : (
        <div>
          <h3>{t("overtime.climate.read")}</h3>
          <ul class="overtime-parts">
            {[...days].slice(0, most).map(([day, entries]) => (
              <li key={day}>
                {day}:{" "}
                {[...new Map([...entries].reverse().map((entry) => [entry.reading, entry])).values()]
                  .sort((a, b) => a.reading.localeCompare(b.reading))
                  .map((entry) => `${tReading(entry.reading)} ${showReading(entry.reading, entry.value)}`)
                  .join(", ")}
              </li>
            ))}
          </ul>
        </div>
      )}
      {piano && (
        <div class="row">
          <a class="button" href={writePlace({ view: "settings", piano, note: null })}>
            {capital(t("overtime.climate.change"))}
          </a>
        </div>
      )}
    </section>
  );
}
