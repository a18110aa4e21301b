// A pass of the worklist: what it is, what it costs the hand, why it stands here, its steps.
import type { Pass, Plan, Step } from "../../api/plan_types.ts";
import { Button, FileButton, Why } from "../../controls/index.ts";
import { keyOfNote, notePrinted } from "../../quantities/notes.ts";
import { showMinutes, showNumber, showReading } from "../../quantities/show.ts";
import { chosenKey, pianoId } from "../../state/piano.ts";
import { go } from "../../state/where.ts";
import { plural, t, tDirection, tReading } from "../../words/index.ts";
import { orderWords } from "../hands/reasons.ts";
import { startAtPass } from "../hands/state.ts";
import { sheetPath } from "./bench.tsx";
import { capital } from "../../words/capital.ts";
import { amountWords, meant, passName } from "../hands/wording.ts";

const strains = ["worklist.strain.0", "worklist.strain.1", "worklist.strain.2", "worklist.strain.3"] as const;

/** Marks and words: filled dots of three. */
export function Strain({ strain }: { strain: number }) {
  const words = t(strains[strain] ?? "worklist.strain.0");
  return (
    <span class="worklist-strain">
      <svg viewBox="0 0 60 20" width="60" height="20" aria-hidden="true">
        {[0, 1, 2].map((i) => (
          <circle key={i} class={i < strain ? "worklist-full" : "worklist-empty"} cx={10 + i * 20} cy="10" r="7" />
        ))}
      </svg>
      {t("worklist.strain", { words })}
    </span>
  );
}

export function PassCard({ pass, plan, number }: { pass: Pass; plan: Plan; number: number }) {
  const pauses = plan.hands?.pauses.filter((pause) => pause.adjuster === pass.adjuster) ?? [];
  return (
    <li class="worklist-pass card" data-pass={pass.adjuster}>
      <div class="worklist-pass-head">
        <h3>{t("worklist.step", { number, pass: capital(passName(pass.adjuster)) })}</h3>
        <Button
          onPress={() => {
            startAtPass(pass.adjuster);
            go("hands");
          }}
          label={`${t("worklist.start.here")}: ${passName(pass.adjuster)}`}
        >
          {t("worklist.start.here")}
        </Button>
        <FileButton
          path={sheetPath(pianoId.value ?? "", pass.adjuster, true)}
          label={t("paper.sheet_of", { pass: passName(pass.adjuster) })}
        >
          {t("paper.sheet")}
        </FileButton>
      </div>
      <p class="worklist-figures">
        <span>{plural("hands.moves", pass.moves)}</span>
        <span>{plural("hands.readings", pass.readings)}</span>
        <span>
          {showMinutes(pass.minutes)}
          {pass.set_up_minutes > 0 && <span class="quiet"> ({t("worklist.minutes.set_up", { minutes: showMinutes(pass.set_up_minutes) })})</span>}
        </span>
        {pass.notes_done > 0 && <span>✓ {plural("worklist.done_notes", pass.notes_done)}</span>}
        {pass.notes_left_knowingly > 0 && <span>{plural("worklist.left_notes", pass.notes_left_knowingly)}</span>}
      </p>
      <Strain strain={pass.moves > 0 ? pass.strain : 0} />
      <p class="worklist-order">{orderWords(pass.place)}</p>
      {pauses.length > 0 && <p>{plural("worklist.pause", pauses.length, { minutes: showNumber(pauses[0]!.minutes, 0) })}</p>}
      <Why label={t("worklist.steps", { count: pass.steps.length })}>
        <ol class="worklist-steps">
          {pass.steps.map((step, i) => (
            <li key={i}>
              <StepLine step={step} />
            </li>
          ))}
        </ol>
      </Why>
    </li>
  );
}

function StepLine({ step }: { step: Step }) {
  const reading = meant(step);
  const key = keyOfNote(step.note);
  return (
    <button type="button" class="worklist-line" onClick={() => key !== null && (chosenKey.value = key)}>
      <strong>{notePrinted(step.note)}</strong>
      {step.kind === "turn" ? (
        <>
          <span>
            {step.amount < 0 ? "↓" : "↑"} {tDirection(step.adjuster, step.amount)} {amountWords(step)}
          </span>
          <span class="quiet">{t("worklist.to", { before: showReading(reading, step.before), after: showReading(reading, step.after) })}</span>
        </>
      ) : (
        <span>
          {t("worklist.read")}: {tReading(step.reading)}
        </span>
      )}
    </button>
  );
}
