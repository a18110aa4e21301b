// The page for the owner, in plain words: only what is known, and how well.
import type { Handover, HandoverReading } from "../../api/handover_types.ts";
import { notePrinted } from "../../quantities/notes.ts";
import { showMinutes, showReading, showSpread } from "../../quantities/show.ts";
import { capital } from "../../words/capital.ts";
import { plural, t, tCode, tPreparation, tReading } from "../../words/index.ts";
import { OwnWords } from "./own_words.tsx";
import { BeforeAfter } from "./picture.tsx";
import { comparedNotes, goodTo, heading, headingOf, noteOrAll, showDates, showOff, whyOutside } from "./telling.ts";

const least_compared = 3; // notes; fewer tell nothing of evenness
const most_pictures = 3;
const most_named = 8; // notes; all of them are on the sheet for the file

function Head({ told }: { told: Handover }) {
  const rooms = told.others.filter((o) => o.note === null && (o.reading === "humidity" || o.reading === "temperature"));
  return (
    <>
      <h1>{told.piano.name}</h1>
      <dl class="handover-head">
        {told.piano.place && <dd>{told.piano.place}</dd>}
        <dd>{[told.visit?.title, showDates(told)].filter(Boolean).join(" · ")}</dd>
        <dt>{t("handover.by")}</dt>
        <dd>{told.who.join(", ") || t("handover.nobody")}</dd>
        <dt>{t("handover.room")}</dt>
        <dd>
          {rooms.length === 0
            ? t("handover.room_unread")
            : rooms
                .map((o) => {
                  const first = showReading(o.reading, o.first);
                  const last = showReading(o.reading, o.last);
                  return `${tReading(o.reading)} ${o.times > 1 && first !== last ? t("handover.first_last", { first, last }) : last}`;
                })
                .join(" · ")}
        </dd>
      </dl>
    </>
  );
}

function Found({ told }: { told: Handover }) {
  const list = told.readings.filter((r) => r.as_found > 0);
  return (
    <section>
      <h2>{t("handover.found")}</h2>
      {list.length === 0 ? (
        <p>{t("handover.found_none")}</p>
      ) : (
        <>
          <p>{t("handover.found_intro")}</p>
          <ul class="handover-list">
            {list.map((r) => (
              <li key={r.reading}>
                <strong>{heading(r.reading)}</strong>
                {": "}
                {[
                  t("handover.read_of", { read: r.as_found, asked: r.asked }),
                  t("handover.outside_of", { outside: r.found.outside, tolerance: showSpread(r.reading, r.tolerance) }),
                  t("handover.typical", { off: showOff(r.reading, r.found.rms) }),
                ].join(", ")}
              </li>
            ))}
          </ul>
        </>
      )}
    </section>
  );
}

function Done({ told }: { told: Handover }) {
  const prepared = told.preparation.filter((p) => p.state === "done" && !p.earlier_visit).map((p) => tPreparation(p.item).name);
  return (
    <section>
      <h2>{t("handover.done")}</h2>
      {prepared.length > 0 && <p>{t("handover.prepared", { list: prepared.join(", ") })}</p>}
      {told.moves.length === 0 ? (
        <p>{t("handover.done_none")}</p>
      ) : (
        <ul class="handover-list">
          {told.moves.map((m) => (
            <li key={m.adjuster}>
              <strong>{headingOf(m.adjuster)}</strong>
              {": "}
              {plural("handover.moves", m.moves)}
              {m.notes.some((n) => n.note !== null) && ` ${plural("handover.on_notes", m.notes_moved)}`}
            </li>
          ))}
        </ul>
      )}
    </section>
  );
}

function Change({ reading }: { reading: HandoverReading }) {
  const { found, now } = reading.compared;
  const notes = comparedNotes(reading);
  const reckoned = notes.filter((n) => n.basis === "reckoned").length;
  const same = !notes.some((n) => n.shifted);
  const said = (value: number | null) => showOff(reading.reading, value);
  return (
    <li>
      <p class="handover-for">
        <strong>{heading(reading.reading)}.</strong> {tCode(`handover.for.${reading.reading}`, "")}
      </p>
      {same && <p>{t("handover.feel_same")}</p>}
      {!same && (
        <p>
          {[
            t("handover.feel_change", {
              notes: found.notes,
              asked: reading.asked,
              before: said(found.rms),
              after: said(now.rms),
              out_before: found.outside,
              out_after: now.outside,
            }),
            found.beside >= least_compared && t("handover.feel_beside", { before: said(found.beside_rms), after: said(now.beside_rms) }),
            t("handover.good_to", { sd: showSpread(reading.reading, goodTo(notes)) }),
            reckoned > 0 && plural("handover.reckoned", reckoned),
          ]
            .filter(Boolean)
            .join(" ")}
        </p>
      )}
    </li>
  );
}

function Feel({ told }: { told: Handover }) {
  const list = told.readings.filter((r) => r.compared.now.notes >= least_compared);
  const shown = list
    .filter((r) => comparedNotes(r).some((n) => n.shifted))
    .sort((a, b) => gained(b) - gained(a))
    .slice(0, most_pictures)
    .filter((r) => gained(r) > 0);
  const weights = told.others.filter((o) => (o.reading === "down-weight" || o.reading === "up-weight") && o.times > 1);
  return (
    <>
      <section>
        <h2>{t("handover.feel")}</h2>
        <p>{list.length === 0 ? t("handover.feel_none") : t("handover.feel_intro")}</p>
        <ul class="handover-list">
          {list.map((r) => (
            <Change key={r.reading} reading={r} />
          ))}
          {weights.length > 0 && (
            <li>
              <p class="handover-for">
                <strong>{t("handover.weights")}.</strong>
              </p>
              {weights.map((o) => (
                <p key={`${o.reading}${o.note}`}>
                  {t("handover.weights_line", {
                    reading: tReading(o.reading),
                    note: noteOrAll(o.note),
                    first: showReading(o.reading, o.first),
                    last: showReading(o.reading, o.last),
                  })}
                </p>
              ))}
            </li>
          )}
        </ul>
      </section>
      {shown.length > 0 && (
        <section>
          <h2>{t("handover.picture")}</h2>
          <p class="quiet">{t("handover.picture_intro")}</p>
          {shown.map((r) => (
            <BeforeAfter key={r.reading} reading={r} />
          ))}
        </section>
      )}
    </>
  );
}

/** Squares of tolerances won over all its notes. */
function gained(r: HandoverReading): number {
  const { found, now } = r.compared;
  return now.notes * ((found.rms_tolerances ?? 0) ** 2 - (now.rms_tolerances ?? 0) ** 2);
}

function stateOf(p: Handover["preparation"][number]): string {
  if (p.state !== null && p.earlier_visit) return t("handover.state.earlier");
  return t(`handover.state.${p.state ?? "none"}`, { reason: p.reason });
}

function Left({ told }: { told: Handover }) {
  const byReading = new Map<string, string[]>();
  for (const one of told.outside) {
    const key = `${one.reading}\n${whyOutside(one)}`;
    byReading.set(key, [...(byReading.get(key) ?? []), notePrinted(one.note)]);
  }
  const unread = told.readings.filter((r) => r.read === 0).map((r) => tReading(r.reading));
  const prepared = told.preparation.filter((p) => !p.passed || p.state === "waived" || p.wanting_notes.length > 0);
  const lines = [
    ...[...byReading].map(([key, notes]) => {
      const [reading = "", why = ""] = key.split("\n");
      const asked = told.readings.find((r) => r.reading === reading)?.asked ?? notes.length;
      const said =
        notes.length > most_named
          ? t("handover.left_many", { reading: heading(reading), count: notes.length, asked })
          : plural("handover.left_outside", notes.length, { reading: heading(reading), notes: notes.join(", ") });
      return `${said} ${capital(why)}.`;
    }),
    ...told.skips.map((s) => t("handover.left_skip", { adjuster: headingOf(s.adjuster), note: noteOrAll(s.note), reason: s.reason })),
    ...prepared.map((p) => t("handover.left_preparation", { item: tPreparation(p.item).name, state: stateOf(p) })),
    ...(told.steps_left.readings + told.steps_left.moves > 0
      ? [t("handover.left_steps", { readings: told.steps_left.readings, moves: told.steps_left.moves, minutes: showMinutes(told.steps_left.minutes) })]
      : []),
    ...(unread.length > 0 ? [t("handover.left_unread", { list: unread.join(", ") })] : []),
  ];
  return (
    <section>
      <h2>{t("handover.left")}</h2>
      {lines.length === 0 ? (
        <p>{t("handover.left_none")}</p>
      ) : (
        <ul class="handover-list">
          {lines.map((line) => (
            <li key={line}>{line}</li>
          ))}
        </ul>
      )}
    </section>
  );
}

export function OwnerPage({ told }: { told: Handover }) {
  const kept = (what: string) => `batten.handover.${told.piano.id}.${what}`;
  return (
    <article class="handover-page">
      <Head told={told} />
      <OwnWords name={kept("words")} label={t("handover.words")} hint={t("handover.words_hint")} otherwise="" />
      <Found told={told} />
      <Done told={told} />
      <Feel told={told} />
      <Left told={told} />
      <section>
        <h2>{t("handover.expect")}</h2>
        <p class="quiet">{t("handover.expect_mark")}</p>
        <ul class="handover-list">
          <li>{t("handover.expect_felt")}</li>
          <li>{t("handover.expect_season")}</li>
          <li>{t("handover.expect_call")}</li>
        </ul>
      </section>
      <section>
        <h2>{t("handover.next")}</h2>
        <OwnWords name={kept("next")} label={t("handover.next")} hint={t("handover.next_hint")} otherwise={t("handover.next_none")} />
      </section>
      <p class="handover-sign">{t("handover.signature")}</p>
    </article>
  );
}
