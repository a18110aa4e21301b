// Hands-on: one step at a time, huge.
import { useEffect, useRef } from "preact/hooks";
import { Button, Notice, usePedal } from "../../controls/index.ts";
import { notePrinted } from "../../quantities/notes.ts";
import { t } from "../../words/index.ts";
import { useAwake } from "./awake.ts";
import { Between, NothingLeft, PauseDue } from "./between.tsx";
import { arrowsAreFree } from "./gauge.ts";
import type { Answered } from "./queue.ts";
import {
  answerStep,
  beginPass,
  hand,
  lookAhead,
  lookBack,
  lookingAt,
  startHands,
  thePlan,
  told,
  undoAnswer,
} from "./state.ts";
import { StepCard } from "./step.tsx";
import { Top } from "./top.tsx";
import { actWords, amountWords } from "./wording.ts";
import "./view.css";

/** The pedal: on with what is on view. A reading without a value is passed over, never invented. */
function pedalAhead(): void {
  if (lookingAt.peek() !== null) return lookAhead();
  const now = hand.peek();
  if (now.between) return beginPass();
  const step = now.shown;
  if (!step) return;
  if (step.kind === "read") return answerStep("passed", []);
  // What stands in the field after the turn belongs to it: the button reads it.
  const button = document.querySelector<HTMLButtonElement>(".hands-button-done");
  if (button) button.click();
}

export function HandsView() {
  startHands();
  useAwake();
  usePedal({ next: pedalAhead, back: lookBack });
  useEffect(() => {
    const onKey = (event: KeyboardEvent) => {
      if (event.repeat || event.ctrlKey || event.altKey || event.metaKey || !arrowsAreFree(event.target)) return;
      const act = event.key === "ArrowRight" || event.key === "ArrowDown" ? pedalAhead : event.key === "ArrowLeft" || event.key === "ArrowUp" ? lookBack : null;
      if (!act) return;
      event.preventDefault();
      act();
    };
    addEventListener("keydown", onKey);
    return () => removeEventListener("keydown", onKey);
  }, []);
  const card = useRef<HTMLDivElement>(null);
  const plan = thePlan.value;
  const now = hand.value;
  const back = lookingAt.value === null ? null : (now.answered[lookingAt.value] ?? null);
  const shown = now.shown;
  const place = `${shown?.note} ${shown?.adjuster} ${shown?.kind} ${now.between} ${back ? 1 : 0}`;
  // A new step begins at its top; who listens hears its note first.
  useEffect(() => {
    const view = card.current?.closest("main");
    if (view) view.scrollTop = 0;
    if (!card.current?.contains(document.activeElement)) card.current?.querySelector<HTMLElement>("h1")?.focus({ preventScroll: true });
  }, [place]);
  if (!plan) return <p class="quiet">{t("hands.no_plan")}</p>;
  return (
    <div class="hands" ref={card}>
      <Top plan={plan} step={shown} />
      {!now.between && <PauseDue />}
      {back ? (
        <Back one={back} />
      ) : shown ? (
        <StepCard key={place} step={shown} pass={plan.passes.find((pass) => pass.adjuster === shown.adjuster)} />
      ) : now.between ? (
        <Between plan={plan} adjuster={now.between} ended={now.ended} />
      ) : (
        <NothingLeft plan={plan} ended={now.ended} />
      )}
      <div class="for-ears" role="status">
        {told.value}
      </div>
    </div>
  );
}

function Back({ one }: { one: Answered }) {
  const { outcome } = one;
  const step = one.step.kind === "turn" && one.amount !== null ? { ...one.step, amount: one.amount, papers_mm: [] } : one.step;
  return (
    <article class="hands-step hands-back" data-note={step.note}>
      <h1 tabIndex={-1}>{t("hands.back.title", { note: notePrinted(step.note) })}</h1>
      <Notice kind={outcome === "done" || outcome === "read" ? "good" : "told"} heading={t(`hands.back.${outcome}`)}>
        <p class="hands-large">
          {actWords(step)}
          {step.kind === "turn" ? ` ${amountWords(step)}` : ""}
        </p>
      </Notice>
      <div class="hands-buttons">
        <Button kind="main" size="huge" onPress={lookAhead}>
          {t("hands.back.on")}
        </Button>
        <Button size="huge" onPress={() => undoAnswer(one)} class="hands-button-take">
          {t("hands.back.take")}
        </Button>
      </div>
    </article>
  );
}
