// Which way a screw turns, asked at the first move while it is not on record.
import { useState } from "preact/hooks";
import type { Thread } from "../../api/plan_types.ts";
import type { Problem } from "../../api/types.ts";
import { Button, Notice, ProblemNotice } from "../../controls/index.ts";
import { enter } from "../../state/entering.ts";
import { pianoId } from "../../state/piano.ts";
import { t, tCode, tDirection } from "../../words/index.ts";

/** The catalogue's own word for +, which the setting is written in whatever the language. */
export const threadValue = (positive: string, more: boolean): string => `${positive} ${more ? "clockwise" : "counter-clockwise"}`;

export function ThreadQuestion({ adjuster, thread, positive }: { adjuster: string; thread: Thread; positive: string }) {
  const [said, setSaid] = useState<boolean | null>(null);
  const [wrong, setWrong] = useState<Problem | null>(null);
  const say = (more: boolean) => {
    const piano = pianoId.peek();
    if (!piano) return;
    void enter(piano, [{ kind: "setting", name: thread.setting, value: threadValue(positive, more) }]).then((entered) => {
      if (entered.state === "refused") setWrong(entered.problem);
      else setSaid(more);
    });
  };
  if (wrong) return <ProblemNotice problem={wrong} />;
  if (said !== null)
    return <Notice kind="good">{t("hands.thread.saved", { direction: tDirection(adjuster, said ? 1 : -1) })}</Notice>;
  return (
    <Notice kind="doubt" heading={t("hands.thread")}>
      <p>{t("hands.thread.text", { watch: tCode(`hands.thread.${adjuster}`, tDirection(adjuster, 1)) })}</p>
      <div class="row">
        <Button onPress={() => say(true)}>{t("hands.thread.yes", { direction: tDirection(adjuster, 1) })}</Button>
        <Button onPress={() => say(false)}>{t("hands.thread.yes", { direction: tDirection(adjuster, -1) })}</Button>
      </div>
    </Notice>
  );
}
