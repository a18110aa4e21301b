// Which view of the piano: tabs where there is room, a list on a phone.
import { Choice } from "../controls/index.ts";
import { chosenKey, pianoId } from "../state/piano.ts";
import { go, view, viewNames, writePlace, type ViewName } from "../state/where.ts";
import { noteName } from "../quantities/notes.ts";
import { t } from "../words/index.ts";

const noteOf = (name: ViewName) => (name === "note" ? noteName(chosenKey.value) : null);

export function Tabs() {
  const piano = pianoId.value;
  if (!piano) return null;
  return (
    <nav class="shell-tabs" aria-label={t("app.views")}>
      {viewNames.map((name) => (
        <a
          key={name}
          href={writePlace({ view: name, piano, note: noteOf(name) })}
          aria-current={view.value === name ? "page" : undefined}
        >
          {t(`view.${name}`)}
        </a>
      ))}
    </nav>
  );
}

export function ViewList() {
  const now = view.value;
  const known = viewNames.find((name) => name === now);
  return (
    <nav class="shell-view-list" aria-label={t("app.views")}>
      <Choice
        label={t("app.views")}
        hideLabel
        as="list"
        value={known ?? "worklist"}
        options={viewNames.map((name) => ({ value: name, label: t(`view.${name}`) }))}
        onChange={(name) => go(name, noteOf(name))}
      />
    </nav>
  );
}
