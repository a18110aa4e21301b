// Above all, thin: pass, how many left, minutes left, pace, finish, when to pause.
import { useEffect, useState } from "preact/hooks";
import type { Plan, Step } from "../../api/plan_types.ts";
import { Button } from "../../controls/index.ts";
import { notePrinted } from "../../quantities/notes.ts";
import { showMinutes, showPace } from "../../quantities/show.ts";
import { datesAs } from "../../state/choices.ts";
import { journal } from "../../state/piano.ts";
import { t } from "../../words/index.ts";
import { awake } from "./awake.ts";
import { whatIsLeft, workedMinutes } from "./queue.ts";
import { hand, justDone, undoAnswer } from "./state.ts";
import { capital } from "../../words/capital.ts";
import { passName } from "./wording.ts";

const stretch = 50; // minutes of work before a pause; core/regulation/planning/rest.hpp

/** The time of day, once a minute. */
export function useNow(): number {
  const [now, setNow] = useState(Date.now());
  useEffect(() => {
    const timer = setInterval(() => setNow(Date.now()), 20_000);
    return () => clearInterval(timer);
  }, []);
  return now;
}
export function minutesWorked(now: number): number {
  const times = journal.value
    .filter((entry) => entry.kind === "move" || entry.kind === "reading" || entry.kind === "skip")
    .slice(0, 400)
    .map((entry) => Date.parse(entry.at));
  return workedMinutes(times, now);
}

export function Top({ plan, step }: { plan: Plan; step: Step | null }) {
  const now = useNow();
  const all = whatIsLeft(hand.value, plan);
  const pass = step ? whatIsLeft(hand.value, plan, step.adjuster) : null;
  const finish = new Date(now + all.minutes * 60_000);
  const pause = stretch - minutesWorked(now);
  return (
    <div class="hands-top">
      <div class="hands-top-row">
        {step && pass && (
          <strong>{t("hands.left", { pass: capital(passName(step.adjuster)), count: pass.moves + pass.readings })}</strong>
        )}
        <span>{t("hands.left.minutes", { minutes: showMinutes(all.minutes) })}</span>
        <span>{t("hands.finish", { time: finish.toLocaleTimeString(datesAs.value, { hour: "2-digit", minute: "2-digit", hourCycle: "h23" }) })}</span>
      </div>
      <div class="hands-top-row hands-undo">
        <JustDone />
        {!justDone.value && (
          <>
            {step && <span>{t("hands.pace", { time: showPace(step.minutes) })}</span>}
            {pause > 0 && pause < all.minutes && <span>{t("hands.pause.in", { minutes: showMinutes(pause) })}</span>}
            {awake.value !== null && <span>{t(awake.value ? "hands.awake" : "hands.asleep")}</span>}
          </>
        )}
      </div>
    </div>
  );
}

/** What was answered last, with its undo, for a few seconds. */
function JustDone() {
  const one = justDone.value;
  return (
    <div role="status" class="hands-just">
      {one && (
        <>
          <span>{t(`hands.undo.${one.outcome}`, { note: notePrinted(one.step.note) })}</span>
          <Button kind="quiet" onPress={() => undoAnswer(one)} class="hands-button-undo">
            {t("do.undo")}
          </Button>
        </>
      )}
    </div>
  );
}
