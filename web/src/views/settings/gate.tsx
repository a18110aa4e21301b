// The gate: before a line is set, the platform is in order or knowingly left.
import { Notice } from "../../controls/index.ts";
import { head } from "../../state/piano.ts";
import { pianoId, writePlace } from "../../state/where.ts";
import { t } from "../../words/index.ts";

/** Said where the gate is shut; nothing where it is open. */
export function PreparationGate() {
  const now = head.value;
  const piano = pianoId.value;
  if (!now || !piano || now.gate.open) return null;
  return (
    <div class="gate">
      <Notice kind="doubt" heading={t("settings.gate.shut")}>
        <p>{t("settings.gate.why")}</p>
        <p>
          <a class="shell-home" href={writePlace({ view: "settings", piano, note: null })}>
            {t("settings.gate.go")}
          </a>
        </p>
      </Notice>
    </div>
  );
}

/** Said where the sections are not on record: without them there is no line and no plan. */
export function NoSections() {
  const piano = pianoId.value;
  if (!piano) return null;
  return (
    <div class="gate">
      <Notice kind="doubt" heading={t("settings.no_sections")}>
        <p>{t("settings.no_sections.why")}</p>
        <p>
          <a class="shell-home" href={writePlace({ view: "settings", piano, note: null })}>
            {t("settings.no_sections.go")}
          </a>
        </p>
      </Notice>
    </div>
  );
}
