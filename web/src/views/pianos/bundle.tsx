// A piano from another machine, read in from its file.
import { useId, useState } from "preact/hooks";
import { postFile } from "../../api/client.ts";
import type { BundleTaken } from "../../api/bundle_types.ts";
import type { Problem } from "../../api/types.ts";
import { Button, Notice, ProblemNotice, Sheet, TextField } from "../../controls/index.ts";
import { openPiano } from "../../state/where.ts";
import { plural, t } from "../../words/index.ts";

const most_bytes = 50_000_000;

/** What is wrong with a file before it is sent; null: nothing that shows from outside. */
export function wrongFile(file: { size: number } | null): string | null {
  if (!file) return t("studio.bundle.none");
  return file.size > most_bytes ? t("studio.bundle.too_large") : null;
}

export function ReadBundle({ onClose, onRead }: { onClose: () => void; onRead: () => void }) {
  const id = useId();
  const [file, setFile] = useState<File | null>(null);
  const [name, setName] = useState("");
  const [wrong, setWrong] = useState<string | null>(null);
  const [busy, setBusy] = useState(false);
  const [problem, setProblem] = useState<Problem | null>(null);
  const [done, setDone] = useState<BundleTaken | null>(null);
  const read = async () => {
    const found = wrongFile(file);
    setWrong(found);
    setProblem(null);
    if (found || !file) return;
    setBusy(true);
    const as = name.trim() === "" ? "" : `?as=${encodeURIComponent(name.trim())}`;
    const answer = await postFile<BundleTaken>(`/api/bundles${as}`, file);
    setBusy(false);
    if (answer.ok) {
      setDone(answer.value);
      onRead();
    } else setProblem(answer.problem);
  };
  return (
    <Sheet title={t("studio.bundle")} onClose={onClose}>
      <div class="stack">
        <p>{t("studio.bundle.explain")}</p>
        {done ? (
          <>
            <Notice kind="good" heading={t("studio.bundle.done", { name: done.piano.name })}>
              <p>{plural("studio.bundle.added", done.entries_added, { there: done.entries_already_there })}</p>
              {done.called !== done.piano.name && <p>{t("studio.bundle.called", { name: done.called, here: done.piano.name })}</p>}
            </Notice>
            <Button kind="main" onPress={() => openPiano(done.piano.id, "overtime")}>
              {t("pianos.open")}
            </Button>
          </>
        ) : (
          <>
            <div class="field">
              <label for={id}>{t("studio.bundle.file")}</label>
              <input
                id={id}
                class="pianos-file"
                type="file"
                accept=".json,application/json"
                aria-invalid={wrong ? true : undefined}
                aria-describedby={`${id}-wrong`}
                onChange={(event) => {
                  setFile(event.currentTarget.files?.[0] ?? null);
                  setWrong(null);
                }}
              />
              <p class="field-wrong" id={`${id}-wrong`} role="alert">
                {wrong}
              </p>
            </div>
            <TextField
              label={t("studio.bundle.as")}
              hint={t("studio.bundle.as.hint")}
              value={name}
              onInput={setName}
              onEnter={() => void read()}
            />
            {problem && <ProblemNotice problem={problem} />}
            <Button kind="main" disabled={busy} onPress={() => void read()}>
              {t("studio.bundle.do")}
            </Button>
          </>
        )}
      </div>
    </Sheet>
  );
}
