// One note on the model: drawn, pressed, struck, and what every setting would do.
import { useEffect } from "preact/hooks";
import type { Fault } from "../../api/note_types.ts";
import { Choice, Notice, ProblemNotice, Stepper } from "../../controls/index.ts";
import { Materials } from "../../drawing/side_view.tsx";
import { notePrinted } from "../../quantities/notes.ts";
import { language } from "../../state/choices.ts";
import { chosenKey, strip } from "../../state/piano.ts";
import { hasWord, t, tCaution } from "../../words/index.ts";
import { answer, cannot, facts, follow, frame, pending, problem, setStart, setTouch, start, strokes, touch } from "./asking.ts";
import { PressCurve, StrokeLines } from "./curves.tsx";
import { AroundJack, AtFront, AtString, Whole } from "./drawings.tsx";
import { Press } from "./press.tsx";
import { OnRecord, Readings } from "./readings.tsx";
import { Sliders } from "./sliders.tsx";
import "./view.css";

function Head() {
  const first = strip.value?.first ?? 1;
  const last = strip.value?.last ?? 88;
  const now = facts.value;
  return (
    <header class="note-head">
      <div class="row">
        <h1>{t("view.note")}</h1>
        <Stepper
          label={t("note.which")}
          value={notePrinted(chosenKey.value)}
          less={t("note.before")}
          more={t("note.next")}
          lessDisabled={chosenKey.value <= first}
          moreDisabled={chosenKey.value >= last}
          onLess={() => (chosenKey.value -= 1)}
          onMore={() => (chosenKey.value += 1)}
        />
      </div>
      {now && (
        <p class="note-model">
          {t(now.profile_chosen ? "note.model" : "note.model.stand_in", { profile: now.profile })} {t("note.changes_nothing")}
        </p>
      )}
      {now && now.start === "believed" && (
        <Choice
          label={t("note.start")}
          value={start.value}
          options={[
            { value: "believed", label: t("note.start.believed") },
            { value: "targets", label: t("note.start.targets") },
          ]}
          onChange={setStart}
        />
      )}
      {now && now.start === "targets" && (
        <p class="note-small">{now.cannot ? t("note.start.cannot") : t("note.start.nothing")}</p>
      )}
    </header>
  );
}

function FaultWords({ fault }: { fault: Fault }) {
  const known = hasWord(`note.fault.${fault.fault}`);
  return (
    <Notice kind={fault.may_break ? "stop" : "doubt"} heading={known ? t(`note.fault.${fault.fault}` as "note.fault.blocked") : fault.happened}>
      <p {...(known || language.value === "en" ? {} : { lang: "en" })}>
        {known ? t(`note.fault.${fault.fault}.todo` as "note.fault.blocked.todo") : fault.todo}
      </p>
      {fault.may_break && <p>{tCaution("blocked-hammer").text}</p>}
    </Notice>
  );
}

function Faults() {
  const now = answer.value;
  return (
    <div class="note-faults" aria-live="polite">
      {cannot.value ? (
        <ProblemNotice problem={cannot.value} />
      ) : now && now.faults.length > 0 ? (
        now.faults.map((fault) => <FaultWords key={fault.fault} fault={fault} />)
      ) : (
        <p class="note-works">
          <span aria-hidden="true">✓ </span>
          {t("note.works")}
        </p>
      )}
    </div>
  );
}

function Drawn() {
  const [note, at] = [answer.value, frame.value];
  if (!note || !at) return null;
  const dip = facts.value?.sharp ? "sharp-dip" : "dip";
  return (
    <>
      <div class="note-stage">
        <Whole note={note} frame={at} />
        <Press />
      </div>
      <Faults />
      <div class="note-insets">
        <figure>
          <figcaption>{t("note.inset.jack")}</figcaption>
          <AroundJack note={note} frame={at} />
        </figure>
        <figure>
          <figcaption>{t("note.inset.string")}</figcaption>
          <AtString note={note} frame={at} />
        </figure>
        <figure>
          <figcaption>{t("note.inset.front")}</figcaption>
          <AtFront note={note} frame={at} dipCode={dip} />
        </figure>
      </div>
      <PressCurve note={note} frame={at} />
      <p class="note-legend note-materials">
        {(["birch", "felt", "leather", "steel"] as const).map((kind) => (
          <span key={kind}>
            <svg width="34" height="20" viewBox="0 0 10 6" aria-hidden="true">
              <rect class={`side-${kind}`} width="10" height="6" />
            </svg>{" "}
            {t(`note.material.${kind}`)}
          </span>
        ))}
      </p>
    </>
  );
}

function Struck() {
  const now = strokes.value;
  return (
    <section aria-labelledby="note-strokes">
      <h2 id="note-strokes">{t("note.strokes")}</h2>
      <Choice
        label={t("note.touch")}
        value={touch.value}
        options={[
          { value: "pressed", label: t("note.touch.pressed") },
          { value: "struck", label: t("note.touch.struck") },
        ]}
        onChange={setTouch}
      />
      {now && <StrokeLines strokes={now} />}
    </section>
  );
}

export function NoteView() {
  useEffect(follow, []);
  const ready = answer.value !== null;
  return (
    <div class="note" aria-busy={!ready && !problem.value} data-note={answer.value?.note} data-pending={pending.value}>
      <Materials />
      <Head />
      {problem.value && <ProblemNotice problem={problem.value} />}
      {!ready && !problem.value && <p class="quiet">{t("note.waiting")}</p>}
      {ready && (
        <div class="note-columns">
          <div class="note-left">
            <Drawn />
          </div>
          <div class="note-right">
            <Readings />
            <Sliders />
          </div>
          <div class="note-below">
            <Struck />
            <OnRecord />
          </div>
        </div>
      )}
    </div>
  );
}
