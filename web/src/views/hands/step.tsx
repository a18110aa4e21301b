// The step on view: which note, which part, what to do, why, what to look for; then three buttons.
import { useState } from "preact/hooks";
import type { NewEntry } from "../../api/entries.ts";
import type { Hand, Pass, ReadStep, Step, TurnStep } from "../../api/plan_types.ts";
import { Button, Notice, NumberField, ProblemNotice } from "../../controls/index.ts";
import { ActionSketch } from "../../drawing/action_sketch.tsx";
import { Bend, Papers, Screw } from "../../drawing/screw.tsx";
import { keyOfNote, notePrinted } from "../../quantities/notes.ts";
import { catalogue } from "../../state/session.ts";
import { t, tCaution, tHow, tReading } from "../../words/index.ts";
import { fieldUnit, readingEntry, wrongWords } from "./fields.ts";
import { useGauge } from "./gauge.ts";
import { AgainSheet, LeaveSheet, OtherAmount } from "./instead.tsx";
import { Sliver } from "./keyboard.tsx";
import { answerStep, hand, reckoning, refusal } from "./state.ts";
import { ThreadQuestion } from "./thread.tsx";
import { WhyAll } from "./why.tsx";
import { capital } from "../../words/capital.ts";
import { actWords, amountWords, apart, expectation, handOf, pressSlowly, thenLines, underAmount, whyLine } from "./wording.ts";

export function StepCard({ step, pass }: { step: Step; pass: Pass | undefined }) {
  const key = keyOfNote(step.note) ?? 40;
  const refused = refusal.value?.step === step && step.kind === "turn" && !step.read_after ? refusal.value.problem : null;
  return (
    <article class={`hands-step hands-${step.kind}`} data-note={step.note} data-adjuster={step.adjuster} data-kind={step.kind}>
      <div class="hands-left">
        <header class="hands-note">
          <h1 tabIndex={-1}>
            {notePrinted(step.note)} <span class="hands-number">{key}</span>
          </h1>
          <Sliver noteKey={key} />
        </header>
        <div class="hands-part">
          <ActionSketch adjuster={step.adjuster} />
        </div>
      </div>
      {refused && <ProblemNotice problem={refused} />}
      {step.kind === "turn" ? <TurnCard step={step} pass={pass} /> : <ReadCard step={step} />}
    </article>
  );
}

/** What was refused of what the step's field held. */
function refusedWords(step: Step): string {
  const problem = refusal.value?.step === step ? refusal.value.problem : null;
  return problem ? [problem.happened, problem.kept, problem.todo].filter(Boolean).join(" ") : "";
}

function Drawing({ step, way }: { step: TurnStep; way: Hand | null }) {
  if (step.papers_mm.length > 0 || step.adjuster.endsWith("punchings")) return <Papers papers={step.papers_mm} amount={step.amount} />;
  if (["back-check", "damper-wire", "repetition-spring"].includes(step.adjuster)) return <Bend adjuster={step.adjuster} amount={step.amount} />;
  return <Screw adjuster={step.adjuster} turns={step.amount} hand={way} />;
}

function TurnCard({ step, pass }: { step: TurnStep; pass: Pass | undefined }) {
  const [after, setAfter] = useState("");
  const [wrong, setWrong] = useState("");
  const [open, setOpen] = useState<"leave" | "again" | null>(null);
  const input = useGauge(step);
  const move = (amount: number): NewEntry => ({ kind: "move", adjuster: step.adjuster, note: step.note, amount });
  const done = (amount = step.amount, text = after) => {
    if (text.trim() === "") return answerStep("done", [move(amount)]);
    const said = wrongWords(text, step.reading);
    if (said) return setWrong(said);
    answerStep("done", [move(amount), readingEntry(step, text)]);
  };
  const kind = catalogue.value?.adjusters.find((one) => one.code === step.adjuster);
  const first = !hand.value.answered.some((one) => one.step.adjuster === step.adjuster && one.outcome === "done");
  const ask = pass?.thread && pass.thread.positive === null && pass.thread.question !== null && kind ? pass.thread : null;
  const harm = pass?.cautions.find((code) => code === "blocked-hammer" || code === "lost-escapement");
  const way = handOf(step, pass?.thread);
  const under = underAmount(step, way);
  const [number, unitOfIt] = apart(amountWords(step));
  return (
    <>
      <div class="hands-right">
        <div class="hands-do">
          <div class="hands-words">
            <p class="hands-verb">{actWords(step)}</p>
            <p class="hands-amount">
              <span class={number.length > 8 ? "hands-long" : ""}>{number}</span> <small>{unitOfIt}</small>
            </p>
            {under && (
              <p class="hands-way">
                {under}
                {way && <small> {t("hands.turn.seen")}</small>}
              </p>
            )}
          </div>
          <div class="hands-drawing" key={`${step.note}${step.adjuster}`}>
            <Drawing step={step} way={way} />
          </div>
        </div>
        {ask && kind && <ThreadQuestion adjuster={step.adjuster} thread={ask} positive={kind.positive} />}
        <p class="hands-why">{whyLine(step)}</p>
        <div class="hands-then">
          <span class="hands-then-word">{t("hands.then")}</span>
          {thenLines(step).map((line) => (
            <span key={line} class="hands-large">
              {line}
            </span>
          ))}
          {pressSlowly(step.adjuster) && <span>{t("hands.then.press")}</span>}
        </div>
        {first && harm && (
          <Notice kind="stop" heading={tCaution(harm).heading}>
            <p>{tCaution(harm).text}</p>
          </Notice>
        )}
        {reckoning.value && <Notice>{t("hands.again.saved")}</Notice>}
        {step.read_after && (
          <NumberField
            label={t("hands.field.after", { reading: capital(tReading(step.reading)) })}
            value={after}
            unit={fieldUnit(step.reading)}
            hint={`${t("hands.then.read")} ${t("hands.field.hint")}`}
            wrong={wrong || refusedWords(step)}
            inputRef={input}
            onInput={(text) => {
              setAfter(text);
              setWrong("");
            }}
            onEnter={(text) => done(step.amount, text)}
          />
        )}
      </div>
      <div class="hands-buttons">
        <Button kind="main" size="huge" onPress={() => done()} class="hands-button-done">
          {t("hands.done")}
        </Button>
        <Button size="huge" onPress={() => setOpen("again")} class="hands-button-again">
          {t("hands.again")}
        </Button>
        <Button size="huge" onPress={() => setOpen("leave")} class="hands-button-leave">
          {t("hands.leave")}
        </Button>
      </div>
      <OtherAmount step={step} least={pass?.least_step ?? kind?.step ?? 1} onDone={(amount) => done(amount)} />
      <WhyAll key={`${step.note} ${step.adjuster}`} note={step.note} adjuster={step.adjuster} label={t("hands.why.all")} />
      {open === "leave" && <LeaveSheet step={step} onClose={() => setOpen(null)} />}
      {open === "again" && <AgainSheet step={step} onClose={() => setOpen(null)} />}
    </>
  );
}

function ReadCard({ step }: { step: ReadStep }) {
  const [text, setText] = useState("");
  const [wrong, setWrong] = useState("");
  const [leaving, setLeaving] = useState(false);
  const input = useGauge(step);
  const save = (typed: string) => {
    const said = wrongWords(typed, step.reading);
    if (said) {
      setWrong(said);
      input.current?.select();
    } else answerStep("read", [readingEntry(step, typed)]);
  };
  const hint = [expectation(step), t("hands.field.hint")].filter(Boolean).join(" ");
  return (
    <>
      <div class="hands-right">
        <p class="hands-verb">{actWords(step)}</p>
        <p>{tHow(step.reading)}</p>
        <NumberField
          label={t("hands.field.read", { reading: capital(tReading(step.reading)), note: notePrinted(step.note) })}
          value={text}
          unit={fieldUnit(step.reading)}
          size="huge"
          hint={hint}
          wrong={wrong || refusedWords(step)}
          inputRef={input}
          onInput={(typed) => {
            setText(typed);
            setWrong("");
          }}
          onEnter={save}
        />
        <p class="hands-why">{whyLine(step)}</p>
      </div>
      <div class="hands-buttons">
        <Button kind="main" size="huge" onPress={() => save(text)} class="hands-button-done">
          {t("hands.done.read")}
        </Button>
        <Button size="huge" onPress={() => answerStep("passed", [])} class="hands-button-pass">
          {t("hands.pass_over")}
        </Button>
        <Button size="huge" onPress={() => setLeaving(true)} class="hands-button-leave">
          {t("hands.leave")}
        </Button>
      </div>
      <WhyAll key={`${step.note} ${step.adjuster}`} note={step.note} adjuster={step.adjuster} label={t("hands.why.all")} />
      {leaving && <LeaveSheet step={step} onClose={() => setLeaving(false)} />}
    </>
  );
}
