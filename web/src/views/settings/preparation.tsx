// The platform, item by item: looked at, put in order, or left knowingly with a reason.
import { useState } from "preact/hooks";
import type { PreparationState } from "../../api/entries.ts";
import type { PreparationLine, Problem } from "../../api/types.ts";
import { Button, Choice, Notice, ProblemNotice, TextField, Why } from "../../controls/index.ts";
import { notePrinted } from "../../quantities/notes.ts";
import { discardRefused, enter, waitingEntries } from "../../state/entering.ts";
import { head, pianoId } from "../../state/piano.ts";
import { t, tPreparation } from "../../words/index.ts";

const states = ["found", "done", "waived", "wanting"] as const;
const signs: Record<PreparationState, string> = { found: "✓", done: "✓", waived: "–", wanting: "✗" };

function Item({ line }: { line: PreparationLine }) {
  const [reason, setReason] = useState<string | null>(null);
  const [problem, setProblem] = useState<Problem | null>(null);
  const [wrong, setWrong] = useState<string | null>(null);
  const words = tPreparation(line.item);
  const waits = [...waitingEntries.value]
    .reverse()
    .find((one) => one.piano === pianoId.value && one.entry.kind === "preparation" && one.entry.item === line.item);
  const state = waits?.entry.kind === "preparation" ? waits.entry.state : line.state;
  const say = async (to: PreparationState, why = "") => {
    const piano = pianoId.peek();
    if (!piano) return;
    const entered = await enter(piano, [
      { kind: "preparation", item: line.item, state: to, ...(why ? { reason: why } : {}) },
    ]);
    // It is shown and corrected here.
    if (entered.state === "refused") for (const id of entered.ids.slice(0, 1)) await discardRefused(id);
    setProblem(entered.state === "refused" ? entered.problem : null);
    setReason(null);
  };
  const leave = (text: string) => {
    if (text.trim() === "") setWrong(t("settings.reason.needed"));
    else void say("waived", text.trim());
  };
  return (
    <li class="settings-item card">
      <h3>
        <span class={`settings-sign settings-${line.earlier_visit ? "open" : (state ?? "open")}`} aria-hidden="true">
          {state && !line.earlier_visit ? signs[state] : "?"}
        </span>{" "}
        {words.name}
      </h3>
      <p>{words.how}</p>
      <Choice
        label={t("settings.state", { item: words.name })}
        hideLabel
        value={(reason !== null ? "waived" : (state ?? "")) as PreparationState}
        options={states.map((value) => ({ value, label: t(`settings.state.${value}`) }))}
        onChange={(to) => {
          setWrong(null);
          if (to === "waived") setReason(line.reason);
          else void say(to);
        }}
      />
      {!state && reason === null && <p class="quiet">{t("settings.state.open")}</p>}
      {line.earlier_visit && <p class="settings-again">{t("settings.state.earlier")}</p>}
      {line.wanting_at.length > 0 && (
        <p class="settings-again">
          {t("settings.state.wanting_at", { notes: line.wanting_at.map(notePrinted).join(", ") })}
        </p>
      )}
      {waits && <p class="quiet">{t("readings.waiting")}</p>}
      {reason !== null && (
        <div class="settings-reason">
          <TextField
            label={t("settings.reason")}
            hint={t("settings.reason.hint")}
            value={reason}
            onInput={setReason}
            onEnter={leave}
            wrong={wrong}
            autofocus
          />
          <div class="row">
            <Button kind="main" onPress={() => leave(reason)}>
              {t("do.save")}
            </Button>
            <Button onPress={() => setReason(null)}>{t("do.cancel")}</Button>
          </div>
        </div>
      )}
      {state === "waived" && line.reason && reason === null && (
        <p>{t("settings.reason.is", { reason: line.reason })}</p>
      )}
      {problem && <ProblemNotice problem={problem} />}
      <Why>
        <p>{words.why}</p>
      </Why>
    </li>
  );
}

export function Preparation() {
  const now = head.value;
  if (!now) return null;
  const left = now.preparation.filter((line) => !line.passed).length;
  return (
    <section aria-labelledby="settings-preparation">
      <h2 id="settings-preparation">{t("settings.preparation")}</h2>
      {now.gate.open ? (
        <Notice kind="good">
          <p>{t("settings.gate.open")}</p>
        </Notice>
      ) : (
        <Notice kind="doubt">
          <p>{t("settings.gate.left", { left, of: now.preparation.length })}</p>
        </Notice>
      )}
      <ul class="plain-list settings-items">
        {now.preparation.map((line) => (
          <Item key={line.item} line={line} />
        ))}
      </ul>
    </section>
  );
}
