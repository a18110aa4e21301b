// What this piano is, and what must be in order before a line is set.
import { useState } from "preact/hooks";
import type { Problem, Setting as SettingLine } from "../../api/types.ts";
import { Button, Choice, ProblemNotice, TextField } from "../../controls/index.ts";
import { notePrinted } from "../../quantities/notes.ts";
import { datesAs, language } from "../../state/choices.ts";
import { discardRefused, enter } from "../../state/entering.ts";
import { head, pianoId } from "../../state/piano.ts";
import { hasWord, t, tAdjuster, tCode, tReading } from "../../words/index.ts";
import { Preparation } from "./preparation.tsx";
import "./settings.css";

/** A setting's name in words: its own, or put together from the reading or adjuster it begins with. */
function nameOf(setting: string): string {
  const own = `settings.name.${setting}`;
  if (hasWord(own)) return t(own);
  const [, code, what] = /^(.*)-(target|tolerance|minutes|limit|thread)$/.exec(setting) ?? [];
  if (!code || !what) return setting;
  const thing = hasWord(`reading.${code}`) ? tReading(code) : tAdjuster(code);
  return tCode(`settings.of.${what}`, setting, { thing });
}

/** What it means: in the user's language where it has been said there, else as the program says it. */
function Help({ setting }: { setting: SettingLine }) {
  const key = `settings.help.${setting.name}`;
  const own = hasWord(key) ? t(key) : null;
  const target = setting.name.endsWith("-target") ? t("settings.help.target") : null;
  const text = language.value === "en" && setting.what ? setting.what : (own ?? target);
  return (
    <>
      {text ? <p>{text}</p> : setting.what && <p lang="en">{setting.what}</p>}
      {setting.example && <p class="quiet">{t("settings.example", { example: setting.example })}</p>}
      {setting.usual && <p class="quiet">{t("settings.usual", { usual: setting.usual })}</p>}
    </>
  );
}

function Line({ setting }: { setting: SettingLine }) {
  const { name, value } = setting;
  const [text, setText] = useState<string | null>(null);
  const [problem, setProblem] = useState<Problem | null>(null);
  const save = async (typed: string) => {
    const piano = pianoId.peek();
    if (!piano) return;
    const entered = await enter(piano, [{ kind: "setting", name, value: typed.trim() }]);
    if (entered.state === "refused") {
      // It is shown and corrected here.
      for (const id of entered.ids.slice(0, 1)) await discardRefused(id);
      setProblem(entered.problem);
    } else {
      setProblem(null);
      setText(null);
    }
  };
  const choices = setting.choices;
  return (
    <li class="settings-line">
      <div class="settings-line-head">
        <div>
          <h4>{nameOf(name)}</h4>
          {text === null && (
            <p class={value ? "" : "quiet"}>
              {value ?? (setting.usual ? t("settings.usual", { usual: setting.usual }) : t("settings.not_set"))}
            </p>
          )}
        </div>
        {text === null && (
          <Button label={t("settings.change_one", { name: nameOf(name) })} onPress={() => setText(value ?? "")}>
            {t("settings.change")}
          </Button>
        )}
      </div>
      {text !== null && (
        <div class="stack">
          <Help setting={setting} />
          {choices.length > 0 && (
            <Choice
              label={nameOf(name)}
              hideLabel
              value={text}
              options={choices.map((one) => ({ value: one, label: one }))}
              onChange={(one) => void save(one)}
            />
          )}
          {(choices.length === 0 || name === "turn-step") && (
            <TextField
              label={nameOf(name)}
              value={text}
              onInput={setText}
              onEnter={(typed) => void save(typed)}
              autofocus
            />
          )}
          {problem && <ProblemNotice problem={problem} />}
          <div class="row">
            {(choices.length === 0 || name === "turn-step") && (
              <Button kind="main" onPress={() => void save(text)} disabled={text.trim() === ""}>
                {t("do.save")}
              </Button>
            )}
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
  const groups = [...new Set(settings.map((one) => one.group))];
  const day = new Intl.DateTimeFormat(datesAs.value, { dateStyle: "medium" });
  return (
    <div class="stack">
      <h1>{piano.name}</h1>
      <p>
        {[
          piano.place,
          t("settings.compass", { lowest: notePrinted(piano.lowest), highest: notePrinted(piano.highest) }),
        ]
          .filter(Boolean)
          .join(" · ")}
      </p>
      <div class="settings-two">
        <Preparation />
        <section aria-labelledby="settings-choices">
          <h2 id="settings-choices">{t("settings.choices")}</h2>
          <p class="quiet">{t("settings.choices.note")}</p>
          {groups.map((group) => (
            <details key={group} class="settings-group" open={group === "piano" || group === "line"}>
              <summary>
                <h3>{tCode(`settings.group.${group}`, group)}</h3>
              </summary>
              <ul class="plain-list">
                {settings
                  .filter((one) => one.group === group)
                  .map((one) => (
                    <Line key={one.name} setting={one} />
                  ))}
              </ul>
            </details>
          ))}
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
