// A setting: what it is, what it means, changed in its place.
import { useState } from "preact/hooks";
import type { Problem, Setting } from "../../api/types.ts";
import { Button, Choice, ProblemNotice, TextField } from "../../controls/index.ts";
import { language } from "../../state/choices.ts";
import { hasWord, t, tAdjuster, tCode, tReading } from "../../words/index.ts";

/** A setting's name in words: its own, or put together from the reading or adjuster it begins with. */
function nameOf(setting: string): string {
  const own = `settings.name.${setting}`;
  if (hasWord(own)) return t(own);
  const [, code, what] = /^(.*)-(target|tolerance|minutes|limit|thread)$/.exec(setting) ?? [];
  if (!code || !what) return setting;
  const thing = hasWord(`reading.${code}`) ? tReading(code) : tAdjuster(code);
  return tCode(`settings.of.${what}`, setting, { thing });
}

/** A choice that has a name of its own in the user's language. */
const valueOf = (value: string): string => tCode(`settings.value.${value}`, value);

/** What it means: in the user's language where it has been said there, else as the program says it. */
function Help({ setting }: { setting: Setting }) {
  const key = `settings.help.${setting.name}`;
  const own = hasWord(key) ? t(key) : null;
  const target = setting.name.endsWith("-target") ? t("settings.help.target") : null;
  const text = language.value === "en" && setting.what ? setting.what : (own ?? target);
  return (
    <>
      {text ? <p>{text}</p> : setting.what && <p lang="en">{setting.what}</p>}
      {setting.example && <p class="quiet">{t("settings.example", { example: setting.example })}</p>}
      {setting.usual && <p class="quiet">{t("settings.usual", { usual: valueOf(setting.usual) })}</p>}
    </>
  );
}

interface Props {
  setting: Setting;
  /** null: it is kept. */
  save: (name: string, value: string) => Promise<Problem | null>;
  /** Several lines of text. */
  lines?: boolean;
  /** Taking it away is a choice too. */
  emptyAllowed?: boolean;
  /** One level below the heading it stands under. */
  heading?: "h3" | "h4";
}

export function SettingLine({ setting, save, lines = false, emptyAllowed = false, heading: Name = "h4" }: Props) {
  const { name, value } = setting;
  const [text, setText] = useState<string | null>(null);
  const [problem, setProblem] = useState<Problem | null>(null);
  const keep = async (value: string) => {
    const wrong = await save(name, value.trim());
    setProblem(wrong);
    if (!wrong) setText(null);
  };
  const choices = setting.choices;
  const typed = choices.length === 0 || name === "turn-step";
  return (
    <li class="settings-line">
      <div class="settings-line-head">
        <div>
          <Name class="settings-name">{nameOf(name)}</Name>
          {text === null && (
            <p class={`settings-value ${value ? "" : "quiet"}`}>
              {(value && valueOf(value)) ?? (setting.usual ? t("settings.usual", { usual: valueOf(setting.usual) }) : t("settings.not_set"))}
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
              options={choices.map((one) => ({ value: one, label: valueOf(one) }))}
              onChange={(one) => void keep(one)}
            />
          )}
          {typed && lines && (
            <label class="field settings-lines">
              <span class="for-ears">{nameOf(name)}</span>
              <textarea
                class="text-field"
                rows={4}
                value={text}
                autofocus
                onInput={(event) => setText(event.currentTarget.value)}
              />
            </label>
          )}
          {typed && !lines && (
            <TextField
              label={nameOf(name)}
              value={text}
              onInput={setText}
              onEnter={(typed) => void keep(typed)}
              autofocus
            />
          )}
          {problem && <ProblemNotice problem={problem} />}
          <div class="row">
            {typed && (
              <Button kind="main" onPress={() => void keep(text)} disabled={!emptyAllowed && text.trim() === ""}>
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
