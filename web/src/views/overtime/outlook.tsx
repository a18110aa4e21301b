// When the next visit is due, and the months until then: expected, with its band, month by month.
import { signal } from "@preact/signals";
import { useState } from "preact/hooks";
import type { Drift, DriftCause, DriftReading } from "../../api/drift_types.ts";
import { ShareChart, valueAt } from "../../charts/share_chart.tsx";
import { Choice, FileButton, Notice } from "../../controls/index.ts";
import { addDays, dayOf, showDay, showMonth } from "../../quantities/days.ts";
import { showDifference, showShare, showSpread } from "../../quantities/show.ts";
import { language } from "../../state/choices.ts";
import { pianoId } from "../../state/piano.ts";
import { writePlace } from "../../state/where.ts";
import { capital } from "../../words/capital.ts";
import { t, tReading } from "../../words/index.ts";
import { dueHeadline, dueSpan, knownWords, pointWords, showChance, surerWords } from "./wording.ts";

const month = 365.25 / 12; // days
const all = "all";
/** Which reading's months are shown. */
const shown = signal(all);

export function NextVisit({ drift }: { drift: Drift }) {
  const piano = pianoId.value;
  const { due, months, known_from: known } = drift;
  const span = dueSpan(due, months);
  const surer = surerWords(known);
  return (
    <section class="card stack" aria-labelledby="overtime-next">
      <div>
        <h2 id="overtime-next" class="overtime-quiet-heading">
          {t("overtime.next")}
        </h2>
        <p class={`overtime-due overtime-${due.state}`}>{dueHeadline(due, months)}</p>
        {span && <p>{span}</p>}
        <p>{t(`overtime.why.${due.state}`, { limit: showShare(drift.limit), now: showShare(drift.share_now) })}</p>
      </div>
      {known.pairs === 0 && due.state !== "unknown" ? (
        <Notice kind="doubt" heading={t("overtime.known.heading")}>
          <p>{knownWords(known)}</p>
        </Notice>
      ) : (
        known.pairs > 0 && <p class="quiet">{knownWords(known)}</p>
      )}
      {surer.length > 0 && due.state !== "unknown" && (
        <div>
          <h3>{t("overtime.surer")}</h3>
          <ul class="overtime-parts">
            {surer.map((one) => (
              <li key={one}>{one}</li>
            ))}
          </ul>
        </div>
      )}
      {piano && (
        <div class="row">
          {(due.state === "due-at" || due.state === "overdue") && (
            <FileButton path={`/api/pianos/${encodeURIComponent(piano)}/due.ics?language=${language.value}`}>{t("overtime.calendar")}</FileButton>
          )}
          {due.state === "unknown" && (
            <a class="button button-main" href={writePlace({ view: "readings", piano, note: null })}>
              {t("overtime.read_first")}
            </a>
          )}
          <a class="button" href={writePlace({ view: "settings", piano, note: null })}>
            {t("overtime.limit.change")}
          </a>
        </div>
      )}
    </section>
  );
}

export function Months({ drift }: { drift: Drift }) {
  const [months, setMonths] = useState(6);
  const reading = drift.readings.find((one) => one.reading === shown.value);
  const { points, due } = reading ?? drift;
  const at = Math.min(months * month, points.at(-1)?.day ?? 0);
  const here = valueAt(points, at);
  const first = points[0];
  const end = points.at(-1);
  if (!first || !end || drift.known === 0) return null;
  const what = capital(reading ? tReading(reading.reading) : t("overtime.chart.all"));
  const limit = showShare(drift.limit);
  const label = t("overtime.chart.label", {
    what,
    now: showShare(first.share),
    end: showShare(end.share),
    months: drift.months,
    low: showShare(end.low),
    high: showShare(end.high),
    limit,
  });
  return (
    <section class="card stack" aria-labelledby="overtime-months">
      <div class="overtime-months-head">
        <h2 id="overtime-months">{t("overtime.chart")}</h2>
        <Choice
          label={t("overtime.chart.of")}
          hideLabel
          as="list"
          value={reading ? shown.value : all}
          options={[
            { value: all, label: t("overtime.chart.all") },
            ...drift.readings.map((one) => ({ value: one.reading, label: tReading(one.reading) })),
          ]}
          onChange={(value) => (shown.value = value)}
        />
      </div>
      <ShareChart
        label={label}
        today={drift.from}
        points={points}
        limit={drift.limit}
        limitText={t("overtime.chart.limit", { limit })}
        due={due.day}
        dueText={due.at ? showDay(due.at, "medium") : ""}
        at={at}
      />
      <input
        class="overtime-slider"
        type="range"
        min={0}
        max={drift.months}
        step={1}
        value={months}
        aria-label={t("overtime.chart.slider")}
        aria-valuetext={showMonth(addDays(dayOf(drift.from), at))}
        onInput={(event) => setMonths(Number(event.currentTarget.value))}
      />
      <p role="status">{here && pointWords(here, addDays(dayOf(drift.from), at), months)}</p>
      <p class="quiet">{t("overtime.chart.axis")}</p>
      <Figures points={points} />
      {reading && <Causes reading={reading} />}
    </section>
  );
}

function Figures({ points }: { points: Drift["points"] }) {
  return (
    <details class="why">
      <summary>{t("overtime.figures")}</summary>
      <table class="overtime-table">
        <thead>
          <tr>
            <th scope="col">{t("overtime.figures.when")}</th>
            <th scope="col">{t("overtime.figures.share")}</th>
            <th scope="col">{t("overtime.figures.band")}</th>
            <th scope="col">{t("overtime.figures.chance")}</th>
          </tr>
        </thead>
        <tbody>
          {points.map((one) => (
            <tr key={one.day}>
              <th scope="row">{showMonth(one.at)}</th>
              <td>{showShare(one.share)}</td>
              <td>
                {showShare(one.low)} – {showShare(one.high)}
              </td>
              <td>{showChance(one.chance_over_limit)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </details>
  );
}

function Causes({ reading }: { reading: DriftReading }) {
  const code = reading.reading;
  const amount = (cause: DriftCause) =>
    cause.cause === "wander" ? showSpread(code, cause.own_sd) : `${showDifference(code, cause.mean)} ${showSpread(code, cause.sd)}`;
  return (
    <div>
      <h3>{t("overtime.causes")}</h3>
      <p class="quiet">{t("overtime.causes.intro", { tolerance: showSpread(code, reading.tolerance) })}</p>
      <ul class="overtime-parts">
        {reading.causes.map((cause) => (
          <li key={cause.cause}>
            {capital(t(`overtime.cause.${cause.cause}`))}: <strong class="number">{amount(cause)}</strong>
          </li>
        ))}
      </ul>
      <p class="quiet">{t("overtime.causes.pairs", { pairs: reading.pairs, notes: reading.notes })}</p>
    </div>
  );
}
