// What this piano is, and what must be in order before a line is set.
import type { Problem } from "../../api/types.ts";
import { notePrinted } from "../../quantities/notes.ts";
import { datesAs } from "../../state/choices.ts";
import { discardRefused, enter } from "../../state/entering.ts";
import { head, pianoId } from "../../state/piano.ts";
import { t, tCode } from "../../words/index.ts";
import { SettingLine } from "./line.tsx";
import { Preparation } from "./preparation.tsx";
import "./settings.css";

/** They hold for a visit only, and are written in Handover. */
const of_a_visit = new Set(["owner-words", "next-visit"]);

/** On record, for this piano; null: it is kept. */
async function save(name: string, value: string): Promise<Problem | null> {
  const piano = pianoId.peek();
  if (!piano) return null;
  const entered = await enter(piano, [{ kind: "setting", name, value }]);
  if (entered.state !== "refused") return null;
  // It is shown and corrected in its own place.
  for (const id of entered.ids.slice(0, 1)) await discardRefused(id);
  return entered.problem;
}

export function SettingsView() {
  const now = head.value;
  if (!now) return null;
  const { piano } = now;
  const settings = now.settings.filter((one) => !of_a_visit.has(one.name));
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
                    <SettingLine key={one.name} setting={one} save={save} />
                  ))}
              </ul>
            </details>
          ))}
          <p>
            <a class="shell-home" href="#/shop">
              {t("settings.shop")}
            </a>
          </p>
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
