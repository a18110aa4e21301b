// Entries the server would not have: shown until they are corrected or discarded.
import { useState } from "preact/hooks";
import type { NewEntry } from "../api/entries.ts";
import { Button, NumberField, ProblemNotice } from "../controls/index.ts";
import { notePrinted } from "../quantities/notes.ts";
import { readingShown } from "../quantities/kinds.ts";
import { unit } from "../state/choices.ts";
import { correctRefused, discardRefused } from "../state/entering.ts";
import { refusedEntries, type Refused } from "../state/link.ts";
import { t, tAdjuster, tPreparation, tReading } from "../words/index.ts";

function what(entry: NewEntry): string {
  const at = "note" in entry && entry.note ? `${notePrinted(entry.note)} ` : "";
  switch (entry.kind) {
    case "reading":
      return `${at}${tReading(entry.reading)} “${entry.value}”`;
    case "move":
      return `${at}${tAdjuster(entry.adjuster)} ${entry.amount}`;
    case "skip":
      return `${at}${tAdjuster(entry.adjuster)}`;
    case "preparation":
      return at + tPreparation(entry.item).name;
    case "setting":
      return `${entry.name} “${entry.value}”`;
    case "remark":
      return `${at}“${entry.text}”`;
    case "undo":
      return t("do.undo");
  }
}

function One({ refused }: { refused: Refused }) {
  const [correcting, setCorrecting] = useState<string | null>(null);
  const { entry } = refused;
  const save = async (text: string) => {
    if (entry.kind !== "reading") return;
    setCorrecting(null);
    await correctRefused(refused.id, refused.piano, [{ ...entry, value: text }]);
  };
  const kind = entry.kind === "reading" ? (readingShown[entry.reading]?.unit ?? "mm") : "mm";
  return (
    <ProblemNotice heading={t("refused.heading", { what: what(entry) })} problem={refused.problem}>
      {correcting !== null && (
        <NumberField
          label={t("refused.value")}
          unit={kind === "mm" ? unit.value : kind}
          value={correcting}
          onInput={setCorrecting}
          onEnter={(text) => void save(text)}
          autofocus
        />
      )}
      <div class="row">
        {entry.kind === "reading" && correcting === null && (
          <Button onPress={() => setCorrecting(`${entry.value}`)}>{t("do.correct")}</Button>
        )}
        {correcting !== null && (
          <Button kind="main" onPress={() => void save(correcting)}>
            {t("do.save")}
          </Button>
        )}
        <Button onPress={() => void discardRefused(refused.id)}>{t("do.discard")}</Button>
      </div>
    </ProblemNotice>
  );
}

export function RefusedEntries() {
  if (refusedEntries.value.length === 0) return null;
  return (
    <div class="shell-notices">
      {refusedEntries.value.map((refused) => (
        <One key={refused.id} refused={refused} />
      ))}
    </div>
  );
}
