// Two visits beside each other: what moved by itself, what was changed, what was turned.
import { useRef, useState } from "preact/hooks";
import type {
  ComparedAdjuster,
  ComparedReading,
  NoteDifference,
  Shift,
  VisitOnRecord,
  VisitsCompared,
} from "../../api/visits_types.ts";
import { scaleLinear } from "../../charts/scale.ts";
import { Folded } from "../../controls/index.ts";
import { useWidth } from "../../drawing/width.ts";
import { showDay } from "../../quantities/days.ts";
import { keyOfNote, notePrinted } from "../../quantities/notes.ts";
import { showDifference, showReading, showShare, showSpread } from "../../quantities/show.ts";
import { head } from "../../state/piano.ts";
import { capital } from "../../words/capital.ts";
import { plural, t, tAdjuster, tDirection, tReading } from "../../words/index.ts";
import { placeWords } from "./wording.ts";

interface Listed {
  title: string;
  begun: string;
}
const named = (visit: Listed) => visit.title || t("settings.visit.untitled");
/** "18 Nov 2024 – after the new hammers" */
export const visitWords = (visit: Listed) => `${showDay(visit.begun, "medium")} – ${named(visit)}`;
const where = (shift: { first: string; last: string }) =>
  placeWords(shift, head.value?.piano.lowest ?? "", head.value?.piano.highest ?? "");

/** "everywhere"; "all, A0 – E5" where not the whole compass was read; a section's notes. */
function extent(shift: Shift): string {
  const notes = where(shift);
  return shift.section !== null || notes === t("overtime.compare.everywhere") ? notes : t("overtime.compare.all", { notes });
}

function roomOf(visit: VisitOnRecord): string {
  const read = [
    visit.humidity === null ? "" : showReading("humidity", visit.humidity),
    visit.temperature === null ? "" : showReading("temperature", visit.temperature),
  ].filter(Boolean);
  return read.length === 0 ? "" : t("overtime.visit.room", { room: read.join(", ") });
}

function Facts({ visit }: { visit: VisitOnRecord }) {
  return (
    <div>
      <h3>{visitWords(visit)}</h3>
      <p class="quiet">
        {[
          visit.who.join(", "),
          plural("overtime.visit.readings", visit.readings),
          plural("overtime.moves", visit.moves),
          roomOf(visit),
        ]
          .filter(Boolean)
          .join(" · ")}
      </p>
    </div>
  );
}

const picture = { width: 132, height: 24, reach: 2 }; // tolerances either way
/** The mean with two standard errors either way, over the tolerance either way. */
function Picture({ shift, tolerance }: { shift: Shift; tolerance: number | null }) {
  if (!tolerance) return null;
  const { width, height, reach } = picture;
  const x = (value: number) => width / 2 + (Math.max(-reach, Math.min(reach, value / tolerance)) / reach) * (width / 2 - 5);
  const middle = height / 2;
  return (
    <svg class="overtime-picture" width={width} height={height} viewBox={`0 0 ${width} ${height}`} aria-hidden="true">
      <rect class="overtime-band" x={x(-tolerance)} y="2" width={x(tolerance) - x(-tolerance)} height={height - 4} />
      <path class="overtime-zero" d={`M${width / 2} 0V${height}`} />
      <path class="overtime-error" d={`M${x(shift.mean - 2 * shift.error)} ${middle}H${x(shift.mean + 2 * shift.error)}`} />
      <circle class={shift.beyond_noise ? "overtime-mean" : "overtime-mean-open"} cx={x(shift.mean)} cy={middle} r="4.5" />
    </svg>
  );
}

/** Note by note along the compass: dots with two standard deviations, over the tolerance either way. */
function AlongTheKeys({ reading, notes }: { reading: ComparedReading; notes: readonly NoteDifference[] }) {
  const box = useRef<HTMLDivElement>(null);
  const width = useWidth(box, 600);
  const height = 120;
  const lowest = keyOfNote(head.value?.piano.lowest ?? "A0") ?? 1;
  const highest = keyOfNote(head.value?.piano.highest ?? "C8") ?? 88;
  const tolerance = reading.tolerance ?? 0;
  const reach = Math.max(1.2 * tolerance, ...notes.map((one) => Math.abs(one.value) + one.sd));
  const x = scaleLinear([lowest, highest], [86, width - 16]);
  const y = scaleLinear([-reach, reach], [height - 22, 4]);
  const largest = notes.reduce((a, b) => (Math.abs(b.value) > Math.abs(a.value) ? b : a), notes[0]!);
  const label = t("overtime.compare.along", {
    reading: tReading(reading.reading),
    notes: plural("overtime.notes", notes.length),
    note: notePrinted(largest.note),
    most: showDifference(reading.reading, largest.value),
  });
  const octaves = [4, 16, 28, 40, 52, 64, 76, 88].filter((key) => key >= lowest && key <= highest);
  return (
    <div ref={box} class="overtime-along">
      <svg width={width} height={height} viewBox={`0 0 ${width} ${height}`} role="img" aria-label={label}>
        <rect class="overtime-band" x="86" y={y(tolerance)} width={width - 102} height={y(-tolerance) - y(tolerance)} />
        <path class="overtime-zero" d={`M86 ${y(0)}H${width - 16}`} />
        {y(-tolerance) - y(tolerance) < 20 ? (
          <text class="share-text" x="80" y={y(0) + 5} text-anchor="end">
            {showSpread(reading.reading, tolerance)}
          </text>
        ) : (
          [tolerance, -tolerance].map((value) => (
            <text key={value} class="share-text" x="80" y={y(value) + 5} text-anchor="end">
              {showDifference(reading.reading, value)}
            </text>
          ))
        )}
        {octaves.map((key) => (
          <text key={key} class="share-text" x={x(key)} y={height - 4} text-anchor="middle">
            {notePrinted(key)}
          </text>
        ))}
        {notes.map((one) => {
          const at = x(keyOfNote(one.note) ?? lowest);
          return (
            <g key={one.note}>
              <path class="overtime-error" d={`M${at} ${y(one.value - 2 * one.sd)}V${y(one.value + 2 * one.sd)}`} />
              <circle class="overtime-mean" cx={at} cy={y(one.value)} r="3.5" />
            </g>
          );
        })}
      </svg>
    </div>
  );
}

/** Without a section that holds every note there is: the row for the whole has said it. */
export function toldOf(shifts: readonly Shift[]): Shift[] {
  const whole = shifts.find((one) => one.section === null);
  return shifts.filter((one) => one.section === null || one.notes !== whole?.notes);
}

interface PartProps {
  title: string;
  explain: string;
  readings: readonly ComparedReading[];
  shifts: (reading: ComparedReading) => readonly Shift[];
  notes: (reading: ComparedReading) => readonly NoteDifference[];
  everything: boolean;
}
function Part({ title, explain, readings, shifts, notes, everything }: PartProps) {
  const told = readings
    .map((reading) => ({ reading, rows: toldOf(shifts(reading)).filter((one) => everything || one.beyond_noise) }))
    .filter((one) => one.rows.length > 0);
  const any = readings.some((reading) => shifts(reading).length > 0);
  return (
    <div>
      <h3>{title}</h3>
      <p class="quiet">{explain}</p>
      {told.length === 0 ? (
        <p>{t(any ? "overtime.compare.none" : "overtime.compare.no_pairs")}</p>
      ) : (
        <table class="overtime-table overtime-shifts">
          <thead>
            <tr>
              <th scope="col">{t("overtime.compare.where")}</th>
              <th scope="col">{t("overtime.compare.notes")}</th>
              <th scope="col">{t("overtime.compare.mean")}</th>
              <th scope="col">{t("overtime.compare.spread")}</th>
              <th scope="col">{t("overtime.compare.picture")}</th>
            </tr>
          </thead>
          {told.map(({ reading, rows }) => (
            <tbody key={reading.reading}>
              <tr class="overtime-of">
                <th scope="rowgroup" colSpan={5}>
                  {capital(tReading(reading.reading))}
                  {reading.tolerance !== null && (
                    <span class="quiet"> ({t("overtime.compare.tolerance", { tolerance: showSpread(reading.reading, reading.tolerance) })})</span>
                  )}
                </th>
              </tr>
              {rows.map((shift) => (
                <tr key={shift.section ?? "all"} class={shift.beyond_noise ? undefined : "overtime-noise"}>
                  <th scope="row">{extent(shift)}</th>
                  <td>{plural("overtime.notes", shift.notes)}</td>
                  <td>
                    <strong>{showDifference(reading.reading, shift.mean)}</strong>{" "}
                    {showSpread(reading.reading, shift.error)}
                    {!shift.beyond_noise && <span> ({t("overtime.compare.noise")})</span>}
                  </td>
                  <td data-label={t("overtime.compare.spread")}>
                    {shift.spread === null || !shift.spread_beyond_noise
                      ? t("overtime.compare.even")
                      : showSpread(reading.reading, shift.spread)}
                  </td>
                  <td>
                    <Picture shift={shift} tolerance={reading.tolerance} />
                  </td>
                </tr>
              ))}
              {notes(reading).length > 0 && (
                <tr>
                  <td colSpan={5}>
                    <Folded label={t("overtime.compare.notewise")}>
                      <AlongTheKeys reading={reading} notes={notes(reading)} />
                    </Folded>
                  </td>
                </tr>
              )}
            </tbody>
          ))}
        </table>
      )}
    </div>
  );
}

function Turned({ one }: { one: ComparedAdjuster }) {
  const parts = one.by_register.map((part) => `${where(part)}: ${plural("overtime.moves", part.moves)}`);
  const ways = [
    one.positive > 0 && tDirection(one.adjuster, 1),
    one.negative > 0 && tDirection(one.adjuster, -1),
  ].filter(Boolean);
  return (
    <li>
      <strong>{capital(tAdjuster(one.adjuster))}</strong>
      {`: ${plural("overtime.moves", one.moves)} ${plural("overtime.on_notes", one.notes)} (${ways.join(", ")})`}
      {parts.length > 1 && ` – ${parts.join("; ")}`}
      {one.reading && one.by_itself !== null && one.by_itself_beyond && (
        <p>
          {t("overtime.compare.had_moved", {
            reading: capital(tReading(one.reading)),
            by: `${showDifference(one.reading, one.by_itself)} ${showSpread(one.reading, one.by_itself_error)}`,
          })}
        </p>
      )}
    </li>
  );
}

export function Compared({ told }: { told: VisitsCompared }) {
  const [everything, setEverything] = useState(false);
  const params = { from: named(told.from), to: named(told.to) };
  return (
    <div class="stack">
      <div class="overtime-two">
        <Facts visit={told.from} />
        <Facts visit={told.to} />
      </div>
      <p>
        {plural("overtime.compare.apart", told.days)}
        {told.visits_between > 0 && ` ${plural("overtime.compare.between", told.visits_between)}`}
      </p>
      <label class="overtime-all">
        <input type="checkbox" checked={everything} onChange={(event) => setEverything(event.currentTarget.checked)} />
        {t("overtime.compare.show_all")}
      </label>
      <Part
        title={t("overtime.compare.by_itself")}
        explain={t("overtime.compare.by_itself.explain", params)}
        readings={told.readings}
        shifts={(one) => one.by_itself}
        notes={(one) => one.notes_by_itself}
        everything={everything}
      />
      <Part
        title={t("overtime.compare.changed")}
        explain={t("overtime.compare.changed.explain", params)}
        readings={told.readings}
        shifts={(one) => one.changed}
        notes={(one) => one.notes_changed}
        everything={everything}
      />
      <div>
        <h3>{t("overtime.compare.adjusters", params)}</h3>
        {told.adjusters.length === 0 && <p>{t("overtime.compare.adjusters.none")}</p>}
        <ul class="overtime-parts">
          {told.adjusters.map((one) => (
            <Turned key={one.adjuster} one={one} />
          ))}
        </ul>
      </div>
      <p class="quiet">
        {t("overtime.compare.method", { looks: told.looks, rate: showShare(told.false_finding_rate) })}
      </p>
    </div>
  );
}
