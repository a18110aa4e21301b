// A file that the server makes for the asking, saved where the browser saves; says where it could not be had.
import { useState } from "preact/hooks";
import type { ComponentChildren } from "preact";
import { getFile, type GotFile } from "../api/client.ts";
import type { Problem } from "../api/types.ts";
import { t } from "../words/index.ts";
import { Button } from "./button.tsx";
import { ProblemNotice } from "./notice.tsx";

const kept_for = 60_000; // ms; the browser has begun to save long before

/** Hands a file to the browser's own saving. */
export function saveFile({ name, blob }: GotFile): void {
  const url = URL.createObjectURL(blob);
  const link = document.createElement("a");
  link.href = url;
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(url), kept_for);
}

interface Props {
  path: string;
  children: ComponentChildren;
  kind?: "main" | "plain" | "quiet" | undefined;
  /** Where the words shown are not enough on their own. */
  label?: string | undefined;
  disabled?: boolean | undefined;
}

export function FileButton({ path, children, kind, label, disabled }: Props) {
  const [busy, setBusy] = useState(false);
  const [problem, setProblem] = useState<Problem | null>(null);
  const fetchIt = async () => {
    setBusy(true);
    const answer = await getFile(path);
    setBusy(false);
    setProblem(answer.ok ? null : answer.problem);
    if (answer.ok) saveFile(answer.value);
  };
  return (
    <>
      <Button kind={kind} label={label} disabled={disabled || busy} onPress={() => void fetchIt()}>
        {busy ? t("do.making") : children}
      </Button>
      {problem && <ProblemNotice problem={problem} />}
    </>
  );
}
