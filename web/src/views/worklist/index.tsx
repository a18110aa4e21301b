// Worklist: the passes in their order, what they cost, what the time there is buys, what waits.
import type { Plan } from "../../api/plan_types.ts";
import { Button, Notice } from "../../controls/index.ts";
import { showMinutes, showNumber } from "../../quantities/show.ts";
import { journal } from "../../state/piano.ts";
import { go } from "../../state/where.ts";
import { plural, t } from "../../words/index.ts";
import { startAtPass, startHands, thePlan } from "../hands/state.ts";
import { passName } from "../hands/wording.ts";
import { TimeBox } from "./curve.tsx";
import { Holds, LookFirst } from "./look_first.tsx";
import { OnPaper } from "./on_paper.tsx";
import { OrderDrawing } from "./order.tsx";
import { PassCard } from "./pass.tsx";
import { whereWereWe } from "./words.ts";
import "./view.css";

/** Minutes since something was last read, turned, left or remarked; null: never. */
function minutesAgo(plan: Plan): number | null {
  const last = journal.value.find((entry) => ["reading", "move", "skip", "remark"].includes(entry.kind));
  return last ? Math.max(0, (Date.now() - Date.parse(last.at)) / 60_000) : plan.progress.minutes_since_last_entry;
}

export function WorklistView() {
  startHands();
  const plan = thePlan.value;
  if (!plan)
    return (
      <div class="worklist">
        <h1>{t("worklist.title")}</h1>
        <p class="quiet">{t("worklist.making")}</p>
      </div>
    );
  const first = plan.passes[0];
  const moves = plan.passes.reduce((sum, pass) => sum + pass.moves, 0);
  const readings = plan.passes.reduce((sum, pass) => sum + pass.readings, 0);
  return (
    <div class="worklist stack">
      <div class="worklist-head">
        <h1>{t("worklist.title")}</h1>
        {first && (
          <Button
            kind="main"
            size="huge"
            class="worklist-start"
            onPress={() => {
              startAtPass(first.adjuster);
              go("hands");
            }}
          >
            {t("worklist.start", { pass: passName(first.adjuster) })}
          </Button>
        )}
      </div>
      <section>
        <h2>{t("worklist.where")}</h2>
        {whereWereWe(plan, minutesAgo(plan)).map((line) => (
          <p key={line}>{line}</p>
        ))}
        {first ? (
          <p>
            <strong>
              {t("worklist.sums", { moves: plural("hands.moves", moves), readings: plural("hands.readings", readings), minutes: showMinutes(plan.minutes) })}
            </strong>
          </p>
        ) : (
          <p>{t("worklist.done")}</p>
        )}
        <p class="quiet">{t("worklist.evenness", { now: showNumber(plan.unevenness, 2), after: showNumber(plan.unevenness_after, 2) })}</p>
        {!plan.gate_open && (
          <Notice kind="doubt" heading={t("worklist.gate")}>
            <Button onPress={() => go("settings")}>{t("hands.gate.go")}</Button>
          </Notice>
        )}
        {!plan.profile_chosen && <p class="quiet">{t("worklist.profile", { profile: plan.profile })}</p>}
      </section>
      <LookFirst plan={plan} />
      <TimeBox plan={plan} />
      <section>
        <h2>{t("worklist.passes")}</h2>
        <OrderDrawing plan={plan} />
        <ol class="plain-list worklist-passes">
          {plan.passes.map((pass, i) => (
            <PassCard key={pass.adjuster} pass={pass} plan={plan} number={i + 1} />
          ))}
        </ol>
      </section>
      <Holds plan={plan} />
      <OnPaper plan={plan} />
      <Rest plan={plan} />
    </div>
  );
}

function Rest({ plan }: { plan: Plan }) {
  if (!plan.hands) return null;
  const { pauses, ocra_index: index } = plan.hands;
  return (
    <section>
      <h2>{t("worklist.rest")}</h2>
      {pauses.length === 0 ? (
        <p>{t("worklist.rest.none")}</p>
      ) : (
        <ul class="plain-list">
          {pauses.map((pause) => (
            <li key={pause.after_minutes}>
              {t("worklist.rest.text", { minutes: showNumber(pause.minutes, 0), after: showMinutes(pause.after_minutes) })}
            </li>
          ))}
        </ul>
      )}
      <p>{t("worklist.rest.class", { words: t(`worklist.rest.${plan.hands.class}`), index: showNumber(index, 2) })}</p>
      <p class="quiet">{t("worklist.rest.aid")}</p>
    </section>
  );
}
