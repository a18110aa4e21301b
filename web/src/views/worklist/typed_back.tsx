// What was written on a sheet at the piano, typed back line by line; all of it is written down, or nothing.
import { useId, useState } from "preact/hooks";
import { post } from "../../api/client.ts";
import type { BackAnswer, BackRefusal } from "../../api/paper_types.ts";
import type { Problem } from "../../api/types.ts";
import { Button, Notice, ProblemNotice, TextField } from "../../controls/index.ts";
import { language, unit } from "../../state/choices.ts";
import { pianoId } from "../../state/piano.ts";
import { plural, t } from "../../words/index.ts";
import { saidOf, typedLines } from "./typed_lines.ts";

function refusedLines(body: unknown): BackRefusal["lines"] {
  const lines = (body as Partial<BackRefusal> | null | undefined)?.lines;
  return Array.isArray(lines) ? lines : [];
}

export function TypedBack() {
  const id = useId();
  const [code, setCode] = useState("");
  const [text, setText] = useState("");
  const [busy, setBusy] = useState(false);
  const [wrong, setWrong] = useState<{ code: string | null; lines: string | null }>({ code: null, lines: null });
  const [refused, setRefused] = useState<{ problem: Problem; lines: BackRefusal["lines"] } | null>(null);
  const [written, setWritten] = useState<BackAnswer | null>(null);
  const lines = typedLines(text);
  const odd = lines.flatMap((one) => (one.kind === "wrong" ? [saidOf(one)] : []));
  const count = (kind: "read" | "done" | "left") => lines.filter((one) => one.kind === kind).length;
  const write = async () => {
    const piano = pianoId.peek();
    const lacking = {
      code: code.trim() === "" ? t("paper.back.code.needed") : null,
      lines: lines.length === 0 ? t("paper.back.empty") : null,
    };
    setWrong(lacking);
    if (!piano || busy || lacking.code || lacking.lines) return;
    setBusy(true);
    // What comes back is said as this view says it.
    const query = `language=${language.value}&inches=${unit.value === "in" ? 1 : 0}`;
    const answer = await post<BackAnswer>(`/api/pianos/${encodeURIComponent(piano)}/back?${query}`, { code: code.trim(), lines: text.split(/\r?\n/) });
    setBusy(false);
    setRefused(answer.ok ? null : { problem: answer.problem, lines: refusedLines(answer.body) });
    setWritten(answer.ok ? answer.value : null);
    if (answer.ok) setText("");
  };
  return (
    <div class="stack">
      <p>{t("paper.back.what")}</p>
      <TextField
        label={t("paper.back.code")}
        hint={t("paper.back.code.hint")}
        value={code}
        onInput={setCode}
        onEnter={() => document.getElementById(id)?.focus()}
        wrong={wrong.code}
      />
      <div class="field">
        <label for={id}>{t("paper.back.lines")}</label>
        <textarea
          id={id}
          class="text-field typed-back"
          rows={8}
          value={text}
          spellcheck={false}
          autoCapitalize="off"
          aria-describedby={`${id}-hint`}
          aria-invalid={wrong.lines || odd.length > 0 ? true : undefined}
          onInput={(event) => setText(event.currentTarget.value)}
          onKeyDown={(event) => {
            if (event.key !== "Enter" || !(event.ctrlKey || event.metaKey)) return;
            event.preventDefault();
            void write();
          }}
        />
        <p class="field-hint" id={`${id}-hint`}>
          {t("paper.back.lines.hint")}
        </p>
        <p class="field-wrong" role="alert">
          {wrong.lines ?? (odd.length > 0 ? odd.join(" ") : null)}
        </p>
        {lines.length > 0 && (
          <p class="quiet">
            {t("paper.back.count_of", {
              lines: plural("paper.back.count", lines.length),
              read: count("read"),
              done: count("done"),
              left: count("left"),
            })}
          </p>
        )}
      </div>
      <Button kind="main" onPress={() => void write()} disabled={busy}>
        {t(busy ? "paper.back.writing" : "paper.back.write")}
      </Button>
      {refused && (
        <ProblemNotice problem={refused.problem}>
          {refused.lines.length > 0 && (
            <ul class="typed-back-list" lang={refused.problem.lang}>
              {refused.lines.map((one) => (
                <li key={one.line}>
                  <strong>{one.text}</strong> {one.happened} {one.todo}
                </li>
              ))}
            </ul>
          )}
        </ProblemNotice>
      )}
      {written && (
        <Notice kind="good" heading={plural("paper.back.done", written.written)}>
          <ul class="typed-back-list">
            {written.already_there > 0 && <li>{plural("paper.back.there", written.already_there)}</li>}
            {written.lines.map((one) => (
              <li key={one.line}>{t("paper.back.line", { line: one.line, what: one.words })}</li>
            ))}
          </ul>
        </Notice>
      )}
    </div>
  );
}
