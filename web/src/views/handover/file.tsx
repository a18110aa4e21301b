// The sheet for the file: every reading before and now, every move, what is left.
import type { ComponentChildren } from "preact";
import type { Handover, HandoverReading } from "../../api/handover_types.ts";
import { notePrinted } from "../../quantities/notes.ts";
import { showAmount, showReading, showSpread } from "../../quantities/show.ts";
import { plural, t, tDirection, tPreparation, tReading } from "../../words/index.ts";
import { heading, headingOf, noteOrAll, showDates, showDay, showFirst, showNow, showOff, whyOutside } from "./telling.ts";

function Part({ title, empty, children }: { title: string; empty: boolean; children: ComponentChildren }) {
  return (
    <section>
      <h2>{title}</h2>
      {empty ? <p>{t("handover.none_listed")}</p> : children}
    </section>
  );
}

function Readings({ reading }: { reading: HandoverReading }) {
  const code = reading.reading;
  return (
    <section class="handover-reading">
      <h3>{heading(code)}</h3>
      <p>
        {[
          t("handover.basis_line", { as_found: reading.as_found, asked: reading.asked, read: reading.now_read, reckoned: reading.now_reckoned }),
          t("handover.tolerance", { tolerance: showSpread(code, reading.tolerance), beside: showSpread(code, reading.neighbour_tolerance) }),
          t("handover.rms_line", { found: showOff(code, reading.found.rms), now: showOff(code, reading.now.rms) }),
        ].join(" ")}
      </p>
      {reading.notes.length > 0 && (
        <div class="handover-columns">
          <table>
            <thead>
              <tr>
                <th scope="col">{t("handover.note")}</th>
                <th scope="col">{t("handover.wanted")}</th>
                <th scope="col">{t("handover.first")}</th>
                <th scope="col">{t("handover.now")}</th>
              </tr>
            </thead>
            <tbody>
              {reading.notes.map((n) => (
                <tr key={n.note} class={n.outside_now ? "handover-outside" : undefined}>
                  <th scope="row">{notePrinted(n.note)}</th>
                  <td>{showReading(code, n.target)}</td>
                  <td>{showFirst(code, n)}</td>
                  <td>{showNow(code, n)}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </div>
      )}
    </section>
  );
}

function Preparation({ told }: { told: Handover }) {
  return (
    <ul class="handover-list">
      {told.preparation.map((p) => {
        const state = p.state !== null && p.earlier_visit ? t("handover.state.earlier") : t(`handover.state.${p.state ?? "none"}`, { reason: p.reason });
        const notes = p.wanting_notes.map(notePrinted).join(", ");
        return (
          <li key={p.item}>
            {t("handover.left_preparation", { item: tPreparation(p.item).name, state })}
            {notes && ` (${t("handover.state.wanting")}: ${notes})`}
          </li>
        );
      })}
    </ul>
  );
}

function Moves({ told }: { told: Handover }) {
  return (
    <>
      {told.moves.map((m) => (
        <p key={m.adjuster} class="handover-moves">
          <strong>{headingOf(m.adjuster)}</strong>
          {` (${plural("handover.moves", m.moves)}): `}
          {m.notes
            .map((n) => `${n.note === null ? "" : `${notePrinted(n.note)} `}${tDirection(m.adjuster, n.amount)} ${showAmount(m.adjuster, n.amount)}`)
            .join("; ")}
        </p>
      ))}
    </>
  );
}

export function FileSheet({ told }: { told: Handover }) {
  return (
    <article class="handover-page">
      <h1>{told.piano.name}</h1>
      <p>{[told.piano.place, told.visit?.title, showDates(told), told.who.join(", ")].filter(Boolean).join(" · ")}</p>
      {told.others.length > 0 && (
        <ul class="handover-list">
          {told.others.map((o) => (
            <li key={`${o.reading}${o.note}`}>
              {`${heading(o.reading)}${o.note === null ? "" : ` ${notePrinted(o.note)}`}: `}
              {o.times > 1
                ? t("handover.first_last", { first: showReading(o.reading, o.first), last: showReading(o.reading, o.last) })
                : showReading(o.reading, o.last)}
            </li>
          ))}
        </ul>
      )}
      <Part title={t("handover.preparation")} empty={told.preparation.length === 0}>
        <Preparation told={told} />
      </Part>
      <Part title={t("handover.moves_made")} empty={told.moves.length === 0}>
        <Moves told={told} />
      </Part>
      <Part title={t("handover.still_outside")} empty={told.outside.length === 0}>
        <ul class="handover-list handover-many">
          {told.outside.map((o) => (
            <li key={`${o.note}${o.reading}`}>
              {`${notePrinted(o.note)} ${tReading(o.reading)}: ${o.basis === "reckoned" ? "≈ " : ""}${showReading(o.reading, o.now)} ${showSpread(o.reading, o.now_sd)}, `}
              {`${t("handover.wanted_is", { target: showReading(o.reading, o.target), tolerance: showSpread(o.reading, o.tolerance) })}; ${whyOutside(o)}`}
            </li>
          ))}
        </ul>
      </Part>
      <Part title={t("handover.skipped")} empty={told.skips.length === 0}>
        <ul class="handover-list">
          {told.skips.map((s) => (
            <li key={`${s.adjuster}${s.note}`}>{`${noteOrAll(s.note)}, ${headingOf(s.adjuster)}: ${s.reason}`}</li>
          ))}
        </ul>
      </Part>
      <Part title={t("handover.remarks")} empty={told.remarks.length === 0}>
        <ul class="handover-list">
          {told.remarks.map((r) => (
            <li key={r.at + r.text}>{`${r.note === null ? "" : `${notePrinted(r.note)}: `}${r.text} (${showDay(r.at)})`}</li>
          ))}
        </ul>
      </Part>
      <Part title={t("handover.readings")} empty={told.readings.every((r) => r.notes.length === 0)}>
        <p>{t("handover.legend")}</p>
        <p>{t(told.profile_chosen ? "handover.model" : "handover.model_stand_in", { profile: told.profile })}</p>
        {told.readings.map((r) => (
          <Readings key={r.reading} reading={r} />
        ))}
      </Part>
      <p class="handover-sign">{t("handover.signature")}</p>
    </article>
  );
}
