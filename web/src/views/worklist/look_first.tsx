// What only someone at the piano can settle, and what is held back until it is.
import type { Hold, Plan } from "../../api/plan_types.ts";
import { Button, Notice, Why } from "../../controls/index.ts";
import { keyOfNote, notePrinted } from "../../quantities/notes.ts";
import { chosenKey } from "../../state/piano.ts";
import { go } from "../../state/where.ts";
import { plural, t, tReading } from "../../words/index.ts";
import { holdWords } from "../hands/reasons.ts";
import { capital } from "../../words/capital.ts";
import { passName } from "../hands/wording.ts";
import { WhyAll } from "../hands/why.tsx";
import { questionWords } from "./words.ts";

function readAt(note: string): void {
  const key = keyOfNote(note);
  if (key !== null) chosenKey.value = key;
  go("readings", note);
}

export function LookFirst({ plan }: { plan: Plan }) {
  if (plan.questions.length === 0) return null;
  return (
    <section class="stack">
      <h2>{t("worklist.look")}</h2>
      <p>{t("worklist.look.text")}</p>
      {plan.questions.map((question, i) => {
        const words = questionWords(question);
        return (
          <Notice key={i} kind="doubt" heading={words.happened}>
            <p>{words.maybe}</p>
            <p>{words.todo}</p>
            <Button onPress={() => readAt(question.note)}>
              {t("worklist.settle", { reading: tReading(question.reading), note: notePrinted(question.note) })}
            </Button>
          </Notice>
        );
      })}
    </section>
  );
}

export function Holds({ plan }: { plan: Plan }) {
  if (plan.holds.length === 0) return null;
  const groups = new Map<string, Hold[]>();
  for (const hold of plan.holds) {
    const key = `${hold.adjuster} ${hold.reason}`;
    groups.set(key, [...(groups.get(key) ?? []), hold]);
  }
  return (
    <section class="stack">
      <h2>{t("worklist.holds")}</h2>
      <p>{t("worklist.holds.text")}</p>
      {[...groups.values()].map((list) => {
        const first = list[0]!;
        return (
          <div key={`${first.adjuster} ${first.reason}`} class="card">
            <h3>
              {capital(passName(first.adjuster))}: {plural("worklist.holds", list.length)}
            </h3>
            <p>{holdWords({ reason: first.reason, would_settle: null })}</p>
            <Why label={list.length > 4 ? plural("worklist.holds", list.length) : list.map((hold) => notePrinted(hold.note)).join(", ")}>
              <ul class="plain-list worklist-held">
                {list.map((hold) => (
                  <li key={hold.note}>
                    <strong>{notePrinted(hold.note)}</strong>
                    {hold.would_settle && (
                      <Button onPress={() => readAt(hold.note)}>
                        {t("worklist.settle", { reading: tReading(hold.would_settle), note: notePrinted(hold.note) })}
                      </Button>
                    )}
                    <WhyAll note={hold.note} adjuster={hold.adjuster} />
                  </li>
                ))}
              </ul>
            </Why>
          </div>
        );
      })}
    </section>
  );
}
