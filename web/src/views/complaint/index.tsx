// From what a player feels to the setting behind it.
import { useEffect } from "preact/hooks";
import type { Diagnosis } from "../../api/complaint_types.ts";
import { Button, Notice, ProblemNotice, Stepper } from "../../controls/index.ts";
import { notePrinted } from "../../quantities/notes.ts";
import { language } from "../../state/choices.ts";
import { chosenKey, pianoId, revision, strip } from "../../state/piano.ts";
import { catalogue, loadCatalogue } from "../../state/session.ts";
import { go } from "../../state/where.ts";
import { capital } from "../../words/capital.ts";
import { t, tAdjuster, tCaution, tDirection } from "../../words/index.ts";
import { answer, asking, change, diagnose, note, problem, takeOut, working } from "./asking.ts";
import { Causes } from "./causes.tsx";
import { NextLook } from "./next_look.tsx";
import { felt, lookName, lookValue, mendWords, summary } from "./wording.ts";
import "./view.css";


function WhichNote() {
  const first = strip.value?.first ?? 1;
  const last = strip.value?.last ?? 88;
  return (
    <div class="complaint-which">
      <Stepper
        label={t("complaint.note_label")}
        value={notePrinted(note.value)}
        less={t("complaint.note_before")}
        more={t("complaint.note_after")}
        lessDisabled={chosenKey.value <= first}
        moreDisabled={chosenKey.value >= last}
        onLess={() => (chosenKey.value -= 1)}
        onMore={() => (chosenKey.value += 1)}
      />
      <p class="complaint-small">{t("complaint.note_hint")}</p>
    </div>
  );
}

function Felt({ codes }: { codes: readonly string[] }) {
  const chosen = asking.value.felt;
  const toggle = (code: string) =>
    change({ felt: chosen.includes(code) ? chosen.filter((c) => c !== code) : [...chosen, code] });
  return (
    <section aria-labelledby="complaint-felt-title">
      <h2 id="complaint-felt-title">{t("complaint.what")}</h2>
      <p class="complaint-small">{t("complaint.what_hint")}</p>
      <div class="complaint-sentences">
        {codes.map((code) => (
          <button
            key={code}
            type="button"
            class="complaint-sentence"
            aria-pressed={chosen.includes(code)}
            onClick={() => toggle(code)}
          >
            <span class="complaint-tick" aria-hidden="true">
              {chosen.includes(code) ? "✓" : ""}
            </span>
            {felt(code)}
          </button>
        ))}
      </div>
      <div class="complaint-do complaint-find">
        <Button kind="main" disabled={chosen.length === 0} onPress={() => change({ choosing: false })}>
          {t("complaint.find")}
        </Button>
        {chosen.length === 0 && <p class="complaint-small">{t("complaint.nothing")}</p>}
      </div>
    </section>
  );
}

function Chosen() {
  return (
    <section aria-labelledby="complaint-chosen-title">
      <h2 id="complaint-chosen-title">{t("complaint.chosen")}</h2>
      <ul class="complaint-chosen">
        {asking.value.felt.map((code) => (
          <li key={code}>{felt(code)}</li>
        ))}
      </ul>
      <div class="complaint-do">
        <Button onPress={() => change({ choosing: true })}>{t("complaint.change")}</Button>
        <Button kind="quiet" onPress={() => change({ felt: [], looks: [], skipped: [], choosing: true })}>
          {t("complaint.clear")}
        </Button>
      </div>
    </section>
  );
}

function Seen({ found }: { found: Diagnosis }) {
  if (found.seen.length === 0) return null;
  return (
    <section aria-labelledby="complaint-seen-title">
      <h2 id="complaint-seen-title">{t("complaint.seen")}</h2>
      <ul class="complaint-seen">
        {found.seen.map((s) => (
          <li key={s.look}>
            <span>
              {lookName(s.look)} <b>{lookValue(s.look, s.value)}</b>{" "}
              <span class="complaint-small">{s.from_journal ? t("complaint.of_journal") : t("complaint.of_now")}</span>
            </span>
            {!s.from_journal && (
              <Button kind="quiet" label={t("complaint.take_out", { look: lookName(s.look) })} onPress={() => takeOut(s.look)}>
                ×
              </Button>
            )}
          </li>
        ))}
      </ul>
    </section>
  );
}

/** What mends it; what could do harm stands before the move, not behind it. */
function Mending({ found }: { found: Diagnosis }) {
  const mend = found.mend;
  return (
    <section aria-labelledby="complaint-mend-title">
      <h2 id="complaint-mend-title">{t("complaint.mend")}</h2>
      {mend && (
        <>
          {mend.adjuster && (
            <p class="complaint-move">
              {t("complaint.move", {
                part: capital(tAdjuster(mend.adjuster)),
                direction: tDirection(mend.adjuster, mend.direction),
              })}
            </p>
          )}
          <p>{mendWords(mend)}</p>
          <div class="complaint-do">
            <Button onPress={() => go("note", found.note)}>{t("complaint.to_note")}</Button>
            <Button onPress={() => go("hands")}>{t("complaint.to_hands")}</Button>
          </div>
        </>
      )}
    </section>
  );
}

function Cautions({ found }: { found: Diagnosis }) {
  return (
    <>
      {found.cautions.map((c) => {
        const own = tCaution(c.code);
        return (
          <Notice key={c.code} kind="stop" heading={own.heading}>
            {own.text === "" ? <p lang="en">{c.text}</p> : <p>{own.text}</p>}
          </Notice>
        );
      })}
    </>
  );
}

function Found({ found }: { found: Diagnosis }) {
  return (
    <>
      <p class="complaint-summary" role="status">
        {summary(found)}
      </p>
      <Cautions found={found} />
      <div class="complaint-columns">
        {found.mend ? <Mending found={found} /> : <NextLook next={found.next} />}
        <Causes found={found} german={language.value === "de"} />
      </div>
      <Seen found={found} />
      <p class="complaint-small">
        {t(found.profile_chosen ? "complaint.model_chosen" : "complaint.model_usual", { profile: found.profile })}
      </p>
    </>
  );
}

export function ComplaintView() {
  useEffect(() => void loadCatalogue(), []);
  const piano = pianoId.value;
  const what = asking.value;
  const at = note.value;
  const now = revision.value;
  useEffect(() => {
    if (piano && !what.choosing && what.felt.length > 0) void diagnose(piano, at, what);
  }, [piano, at, now, what.choosing, what.felt, what.looks]);
  const found = what.choosing ? null : answer.value;
  const codes = catalogue.value?.complaints.map((c) => c.code) ?? [];
  return (
    <div class="complaint-view">
      <div class="complaint-head">
        <h1>{t("complaint.title")}</h1>
        <WhichNote />
      </div>
      {what.choosing ? <Felt codes={codes} /> : <Chosen />}
      {!what.choosing && working.value && !found && <p role="status">{t("complaint.working")}</p>}
      {!what.choosing && problem.value && <ProblemNotice problem={problem.value} />}
      {found && <Found found={found} />}
    </div>
  );
}
