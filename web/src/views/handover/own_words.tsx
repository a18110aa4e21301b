// What the technician writes on the page: on record with the visit, like everything else.
import { useEffect, useId, useState } from "preact/hooks";
import type { Entry } from "../../api/entries.ts";
import type { Problem } from "../../api/types.ts";
import { Button, ProblemNotice } from "../../controls/index.ts";
import { discardRefused, enter } from "../../state/entering.ts";
import { head, journal, pianoId } from "../../state/piano.ts";
import { t } from "../../words/index.ts";

type Name = "owner-words" | "next-visit";

/** What stands on record of this visit; one of an earlier visit does not hold. */
export function ofThisVisit(name: Name, entries: readonly Entry[], visit: string | undefined): string {
  const undone = new Set(entries.flatMap((one) => (one.kind === "undo" ? [one.entry] : [])));
  const last = entries.find(
    (one) =>
      one.kind === "setting" && one.name === name && (one.visit ?? visit) === visit && one.in_force !== false && !undone.has(one.id),
  );
  return last?.kind === "setting" ? last.value : "";
}

function OwnWords({ name, label, hint }: { name: Name; label: string; hint: string }) {
  const id = useId();
  const there = ofThisVisit(name, journal.value, head.value?.visits.at(-1)?.id);
  const [text, setText] = useState<string | null>(null);
  const [problem, setProblem] = useState<Problem | null>(null);
  // What was saved has come back as what is there.
  useEffect(() => setText((now) => (now?.trim() === there ? null : now)), [there]);
  const changed = text !== null && text.trim() !== there;
  const save = async () => {
    const piano = pianoId.peek();
    if (!piano || text === null) return;
    const entered = await enter(piano, [{ kind: "setting", name, value: text.trim() }]);
    // It is shown and corrected here.
    if (entered.state === "refused") for (const one of entered.ids.slice(0, 1)) await discardRefused(one);
    setProblem(entered.state === "refused" ? entered.problem : null);
  };
  return (
    <div class="field">
      <label for={id}>{label}</label>
      <textarea
        id={id}
        class="text-field"
        rows={2}
        value={text ?? there}
        aria-describedby={`${id}-hint`}
        onInput={(event) => setText(event.currentTarget.value)}
      />
      <p class="field-hint" id={`${id}-hint`}>
        {hint}
      </p>
      {problem && <ProblemNotice problem={problem} />}
      {changed && (
        <div class="row">
          <Button kind="main" label={t("handover.save", { what: label })} onPress={() => void save()}>
            {t("do.save")}
          </Button>
          <Button
            onPress={() => {
              setText(null);
              setProblem(null);
            }}
          >
            {t("do.cancel")}
          </Button>
        </div>
      )}
    </div>
  );
}

export function Own() {
  return (
    <div class="handover-own">
      <OwnWords name="owner-words" label={t("handover.words")} hint={t("handover.words_hint")} />
      <OwnWords name="next-visit" label={t("handover.next")} hint={t("handover.next_hint")} />
    </div>
  );
}
