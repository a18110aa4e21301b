// What this piano is, and what must be in order before a line is set.
import { useState } from "preact/hooks";
import type { Problem } from "../../api/types.ts";
import { Button, ProblemNotice, TextField } from "../../controls/index.ts";
import { notePrinted } from "../../quantities/notes.ts";
import { language } from "../../state/choices.ts";
import { enter } from "../../state/entering.ts";
import { head, pianoId } from "../../state/piano.ts";
import { hasWord, t, tAdjuster, tCode, tReading } from "../../words/index.ts";
import { Preparation } from "./preparation.tsx";
import "./settings.css";

/** Shown even where nothing is on record. */
const usual = [
  "sections",
  "action-profile",
  "blow-target",
  "dip-target",
  "hammer-datum",
  "grade",
  "samples",
  "papers",
  "capstan-thread",
  "out-of-service",
  "undamped-from",
  "one-string-to",
  "two-strings-to",
  "lacks",
  "crown-per-turn",
  "turn-step",
] as const;

/** A setting's name in words: its own, or put together from the reading or adjuster it begins with. */
function nameOf(setting: string): string {
  const own = `settings.name.${setting}`;
  if (hasWord(own)) return t(own);
  const [, code, what] = /^(.*)-(target|tolerance|minutes|limit|thread)$/.exec(setting) ?? [];
  if (!code || !what) return setting;
  const thing = hasWord(`reading.${code}`) ? tReading(code) : tAdjuster(code);
  return tCode(`settings.of.${what}`, setting, { thing });
}

function Setting({ name, value }: { name: string; value: string | undefined }) {
  const [text, setText] = useState<string | null>(null);
  const [problem, setProblem] = useState<Problem | null>(null);
  const help = tCode(`settings.help.${name}`, "");
  const save = async (typed: string) => {
    const piano = pianoId.peek();
    if (!piano) return;
    const entered = await enter(piano, [{ kind: "setting", name, value: typed.trim() }]);
    if (entered.state === "refused") setProblem(entered.problem);
    else {
      setProblem(null);
      setText(null);
    }
  };
  return (
    <li class="settings-line">
      <div class="settings-line-head">
        <div>
          <h3>{nameOf(name)}</h3>
          {text === null && <p class={value ? "" : "quiet"}>{value || t("settings.not_set")}</p>}
        </div>
        {text === null && (
          <Button label={t("settings.change_one", { name: nameOf(name) })} onPress={() => setText(value ?? "")}>
            {t("settings.change")}
          </Button>
        )}
      </div>
      {text !== null && (
        <div class="stack">
          <TextField label={nameOf(name)} hint={help} value={text} onInput={setText} onEnter={(typed) => void save(typed)} autofocus />
          {problem && <ProblemNotice problem={problem} />}
          <div class="row">
            <Button kind="main" onPress={() => void save(text)} disabled={text.trim() === ""}>
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
        </div>
      )}
    </li>
  );
}

export function SettingsView() {
  const now = head.value;
  if (!now) return null;
  const { piano, settings } = now;
  const others = Object.keys(settings).filter((name) => !usual.some((one) => one === name)).sort();
  const day = new Intl.DateTimeFormat(language.value, { dateStyle: "medium" });
  return (
    <div class="stack">
      <h1>{piano.name}</h1>
      <p>
        {[piano.place, t("settings.compass", { lowest: notePrinted(piano.lowest), highest: notePrinted(piano.highest) })].filter(Boolean).join(" · ")}
      </p>
      <div class="settings-two">
        <Preparation />
        <section aria-labelledby="settings-choices">
          <h2 id="settings-choices">{t("settings.choices")}</h2>
          <p class="quiet">{t("settings.choices.note")}</p>
          <ul class="plain-list">
            {[...usual, ...others].map((name) => (
              <Setting key={name} name={name} value={settings[name]} />
            ))}
          </ul>
          <h2>{t("settings.visits")}</h2>
          <ul class="plain-list">
            {[...now.visits].reverse().map((visit) => (
              <li key={visit.id}>
                {day.format(new Date(visit.begun))} – {visit.title || t("settings.visit.untitled")}
              </li>
            ))}
          </ul>
        </section>
      </div>
    </div>
  );
}
