// Before, with the moves, and the target; and what is on record.
import { memo } from "preact/compat";
import type { NoteReading } from "../../api/note_types.ts";
import { showDifference, showReading, showSpread } from "../../quantities/show.ts";
import { datesAs } from "../../state/choices.ts";
import { hasWord, t, tAdjuster, tReading } from "../../words/index.ts";
import { WhyAll } from "../hands/why.tsx";
import { answer, blown, facts, moves, start } from "./asking.ts";
import { ofTheBlow, pendingWords, shownReadings, standing, targetWords, valueWords, type Standing } from "./wording.ts";

const readingName = (code: string) => {
  const own = `note.reading.${code}`;
  return hasWord(own) ? t(own) : tReading(code);
};

const signs: Record<Standing, string> = { inside: "✓", outside: "✕", unknown: "?", free: "" };

function Mark({ of }: { of: Standing }) {
  if (of === "free") return <span class="note-mark-free">{t("note.no_target")}</span>;
  return (
    <span class={`note-stands note-stands-${of}`}>
      <span aria-hidden="true">{signs[of]} </span>
      {t(`note.${of}`)}
    </span>
  );
}

/** What the reading was and would be now; `late`: of a blow that is played when the slider rests. */
function figures(reading: NoteReading) {
  const now = answer.value;
  const late = ofTheBlow.has(reading.code) && now !== null && !now.blow;
  const before = start.value === "believed" ? reading.at_believed : reading.at_targets;
  const after = (late ? blown.value : now)?.readings[reading.code] ?? null;
  return { late, before, after };
}

/** The reading a slider is moved for, beside the slider. */
export function SetsLine({ code }: { code: string }) {
  const list = facts.value?.readings;
  const reading = list?.find((one) => one.code === code) ?? list?.find((one) => one.code === `sharp-${code}`);
  if (!reading || reading.target === null) return <span>{t("note.sets", { reading: tReading(code) })}</span>;
  const { before, after } = figures(reading);
  return (
    <span>
      {readingName(reading.code)} {valueWords(reading.code, before)} → <b class="note-after">{valueWords(reading.code, after)}</b>,{" "}
      {t("note.column.target")} {targetWords(reading)} <Mark of={standing(reading, after)} />
    </span>
  );
}

function Row({ reading }: { reading: NoteReading }) {
  const { late, before, after } = figures(reading);
  const stands = standing(reading, after);
  const moved = Object.keys(moves.value).length > 0 && before !== null && after !== null && Math.abs(after - before) > 0.004;
  return (
    <tr class={`note-row-${stands}`}>
      <th scope="row">{readingName(reading.code)}</th>
      <td class="number note-before">{valueWords(reading.code, before)}</td>
      <td class={`number note-after ${late ? "note-late" : ""}`}>
        {moved && <span aria-hidden="true">→ </span>}
        {valueWords(reading.code, after)}
        {late && <span class="for-ears"> {t("note.late")}</span>}
      </td>
      <td class="number note-target">
        {targetWords(reading)}
      </td>
      <td>
        <Mark of={stands} />
      </td>
    </tr>
  );
}

export function Readings() {
  const now = facts.value;
  if (!now) return null;
  const by = new Map(now.readings.map((reading) => [reading.code, reading]));
  const list = shownReadings.flatMap((code) => by.get(code) ?? []);
  return (
    <section aria-labelledby="note-reads">
      <h2 id="note-reads">{t("note.reads")}</h2>
      <div class="note-table">
        <table>
          <thead>
            <tr>
              <th scope="col">{t("note.column.reading")}</th>
              <th scope="col">{t("note.column.before")}</th>
              <th scope="col">{t("note.column.what_if")}</th>
              <th scope="col">{t("note.column.target")}</th>
              <th scope="col">
                <span class="for-ears">{t("note.column.stands")}</span>
              </th>
            </tr>
          </thead>
          <tbody>
            {list.map((reading) => (
              <Row key={reading.code} reading={reading} />
            ))}
          </tbody>
        </table>
      </div>
    </section>
  );
}

function when(at: string): string {
  const date = new Date(at);
  return Number.isNaN(date.getTime())
    ? at
    : new Intl.DateTimeFormat(datesAs.value, { dateStyle: "medium", timeStyle: "short" }).format(date);
}

export const OnRecord = memo(function OnRecord() {
  const now = facts.value;
  if (!now) return null;
  const read = now.readings.filter((reading) => reading.read !== null);
  const asked = now.adjusters.filter((adjuster) => adjuster.pending_amount !== null);
  return (
    <section aria-labelledby="note-record" class="note-record">
      <h2 id="note-record">{t("note.record")}</h2>
      {read.length === 0 ? (
        <p>{t("note.nothing_read")}</p>
      ) : (
        <ul class="plain-list note-read">
          {read.map((reading) => (
            <li key={reading.code}>
              <span class="note-read-name">{readingName(reading.code)}</span>
              <span class="number note-read-value">{showReading(reading.code, reading.read!.value)}</span>
              <Mark of={standing(reading, reading.read!.value)} />
              <span class="note-small">
                {when(reading.read!.at)}
                {reading.target !== null && `, ${t("note.from_target", { difference: showDifference(reading.code, reading.read!.value - reading.target) })}`}
                {reading.believed !== null && `, ${t("note.believed_now", { value: showReading(reading.code, reading.believed), spread: showSpread(reading.code, reading.believed_sd) })}`}
              </span>
            </li>
          ))}
        </ul>
      )}
      <h3>{t("note.pending")}</h3>
      {asked.length === 0 ? (
        <p>{t("note.nothing_pending")}</p>
      ) : (
        <ul class="plain-list note-moves">
          {asked.map((adjuster) => (
            <li key={adjuster.code}>
              <span class="note-move">
                → {tAdjuster(adjuster.code)}: {pendingWords(adjuster)}
              </span>
              <WhyAll key={now.note} note={now.note} adjuster={adjuster.code} />
            </li>
          ))}
        </ul>
      )}
    </section>
  );
});
