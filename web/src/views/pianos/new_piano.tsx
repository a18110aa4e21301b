// A new piano: its name, where it stands, its keys and where its sections end.
import { useState } from "preact/hooks";
import { post } from "../../api/client.ts";
import type { Problem } from "../../api/types.ts";
import { Button, ProblemNotice, Sheet, TextField } from "../../controls/index.ts";
import { keyOfNote, noteName } from "../../quantities/notes.ts";
import { newId } from "../../state/entering.ts";
import { openPiano } from "../../state/where.ts";
import { t } from "../../words/index.ts";

export function NewPiano({ onClose }: { onClose: () => void }) {
  const [name, setName] = useState("");
  const [place, setPlace] = useState("");
  const [lowest, setLowest] = useState("A0");
  const [highest, setHighest] = useState("C8");
  const [sections, setSections] = useState("");
  const [wrong, setWrong] = useState<"name" | "lowest" | "highest" | null>(null);
  const [problem, setProblem] = useState<Problem | null>(null);
  const [id] = useState(newId);
  const add = async () => {
    const [low, high] = [keyOfNote(lowest), keyOfNote(highest)];
    setProblem(null);
    setWrong(name.trim() === "" ? "name" : low === null ? "lowest" : high === null || high <= low ? "highest" : null);
    if (name.trim() === "" || low === null || high === null || high <= low) return;
    const answer = await post<unknown>("/api/pianos", {
      id,
      name: name.trim(),
      place: place.trim(),
      lowest: noteName(low),
      highest: noteName(high),
      sections: sections.trim(),
    });
    if (answer.ok) openPiano(id, "settings");
    else setProblem(answer.problem);
  };
  const enter = () => void add();
  return (
    <Sheet title={t("pianos.new")} onClose={onClose}>
      <div class="stack">
        <TextField
          label={t("pianos.name")}
          hint={t("pianos.name.hint")}
          value={name}
          onInput={setName}
          onEnter={enter}
          wrong={wrong === "name" ? t("pianos.name.needed") : null}
          autofocus
        />
        <TextField label={t("pianos.place")} value={place} onInput={setPlace} onEnter={enter} />
        <div class="pianos-compass">
          <TextField
            label={t("pianos.lowest")}
            value={lowest}
            onInput={setLowest}
            onEnter={enter}
            wrong={wrong === "lowest" ? t("pianos.note.wrong") : null}
          />
          <TextField
            label={t("pianos.highest")}
            value={highest}
            onInput={setHighest}
            onEnter={enter}
            wrong={wrong === "highest" ? t("pianos.note.wrong") : null}
          />
        </div>
        <TextField
          label={t("settings.name.sections")}
          hint={`${t("settings.help.sections")} ${t("pianos.sections.later")}`}
          value={sections}
          onInput={setSections}
          onEnter={enter}
        />
        {problem && <ProblemNotice problem={problem} />}
        <Button kind="main" onPress={enter}>
          {t("pianos.add")}
        </Button>
      </div>
    </Sheet>
  );
}
