// One note on the model: drawn, pressed, struck, and what every setting would do.
import { computed } from "@preact/signals";
import { memo } from "preact/compat";
import { useEffect } from "preact/hooks";
import type { Fault } from "../../api/note_types.ts";
import { Choice, Notice, ProblemNotice, Stepper } from "../../controls/index.ts";
import { Materials } from "../../drawing/side_view.tsx";
import { WhenSeen } from "../../drawing/when_seen.tsx";
import { NoteReadings } from "../../charts/note_readings.tsx";
import { keyOfNote, noteName, notePrinted } from "../../quantities/notes.ts";
import { language } from "../../state/choices.ts";
import { chosenKey, strip } from "../../state/piano.ts";
import { where } from "../../state/where.ts";
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
      <div class="row note-top">
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
      </div>
      {now && (
        <p class="note-model">
          {t(now.profile_chosen ? "note.model" : "note.model.stand_in", { profile: now.profile })} {t("note.changes_nothing")}
        </p>
      )}
      {now && now.start === "targets" && (
        <p class="note-small">{now.cannot ? t("note.start.cannot") : t("note.start.nothing")}</p>
      )}
    </header>
  );
}

function headingOf(fault: Fault): string {
  const key = `note.fault.${fault.fault}`;
  return hasWord(key) ? t(key) : fault.happened;
}

/** In one line whether it works: seen beside the drawing while a slider is dragged. */
function Works() {
  const first = answer.value?.faults[0];
  const harm = cannot.value?.happened ?? (first && headingOf(first));
  return (
    <p class={`note-works ${harm ? (first?.may_break === false && !cannot.value ? "note-works-ill" : "note-works-harm") : ""}`} role="status">
      <span class="note-works-sign" aria-hidden="true">
        {harm ? "!" : "✓"}
      </span>
      {harm ?? t("note.works")}
    </p>
  );
}

/** What to do about it. */
function Faults() {
  const now = answer.value;
  if (cannot.value) return <ProblemNotice problem={cannot.value} />;
  return (
    <>
      {now?.faults.map((fault) => {
        const todo = `note.fault.${fault.fault}.todo`;
        const known = hasWord(todo);
        return (
          <Notice key={fault.fault} kind={fault.may_break ? "stop" : "doubt"} heading={headingOf(fault)}>
            <p {...(known || language.value === "en" ? {} : { lang: "en" })}>{known ? t(todo) : fault.todo}</p>
            {fault.may_break && <p>{tCaution("blocked-hammer").text}</p>}
          </Notice>
        );
      })}
    </>
  );
}

function Drawn() {
  const [note, at] = [answer.value, frame.value];
  if (!note || !at) return null;
  const dip = facts.value?.sharp ? "sharp-dip" : "dip";
  return (
    <>
      <div class="note-sight">
        <Whole note={note} frame={at} />
        <Works />
      </div>
      <Press />
      <Faults />
      <div class="note-insets">
        <figure class="note-jack">
          <figcaption>{t("note.inset.jack")}</figcaption>
          <WhenSeen>
            <AroundJack note={note} frame={at} />
          </WhenSeen>
        </figure>
        <figure>
          <figcaption>{t("note.inset.string")}</figcaption>
          <WhenSeen>
            <AtString note={note} frame={at} />
          </WhenSeen>
        </figure>
        <figure>
          <figcaption>{t("note.inset.front")}</figcaption>
          <WhenSeen>
            <AtFront note={note} frame={at} dipCode={dip} />
          </WhenSeen>
        </figure>
      </div>
      <WhenSeen class="note-force">
        <PressCurve note={note} frame={at} />
      </WhenSeen>
      <p class="note-legend note-materials">
        {(["birch", "felt", "leather", "steel"] as const).map((kind) => (
          <span key={kind}>
            <svg width="34" height="20" aria-hidden="true">
              <Materials name={`note-key-${kind}`} scale={1} />
              <rect class={`side-${kind}`} x="1" y="1" width="32" height="18" {...(kind === "steel" ? {} : { fill: `url(#note-key-${kind}-${kind})` })} />
            </svg>{" "}
            {t(`note.material.${kind}`)}
          </span>
        ))}
      </p>
    </>
  );
}

const Struck = memo(function Struck() {
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
});

/** For whoever waits for the drawing: what it is of, and whether more of it comes. */
const drawnNote = computed(() => answer.value?.note);
const drawnCapstan = computed(() => `${answer.value?.moves["capstan"] ?? 0}`);
const drawnPending = computed(() => `${pending.value}`);
const drawn = computed(() => answer.value !== null);

export function NoteView() {
  // A link to a note chooses it.
  const linked = "note" in where.value ? where.value.note : null;
  useEffect(() => {
    const key = linked === null ? null : keyOfNote(linked);
    if (key !== null) chosenKey.value = key;
  }, [linked]);
  useEffect(follow, []);
  const ready = drawn.value;
  return (
    <div class="note" aria-busy={!ready && !problem.value} data-note={drawnNote} data-pending={drawnPending} data-drawn={drawnCapstan}>
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
            <NoteReadings note={noteName(chosenKey.value)} repeated most={12} />
          </div>
        </div>
      )}
    </div>
  );
}
