// The page for the owner and the sheet for the file, on screen and on paper.
import { signal } from "@preact/signals";
import { useEffect } from "preact/hooks";
import type { Handover } from "../../api/handover_types.ts";
import { Button, Choice, ProblemNotice } from "../../controls/index.ts";
import { useAnswer } from "../../state/answer.ts";
import { pianoId } from "../../state/piano.ts";
import { t } from "../../words/index.ts";
import { FileSheet } from "./file.tsx";
import { OwnerPage } from "./owner.tsx";
import { forPaper } from "./paper.ts";
import { showDates } from "./telling.ts";
import "./view.css";

type Part = "owner" | "file";
const part = signal<Part>("owner");

export function HandoverView() {
  const piano = pianoId.value;
  const answer = useAnswer<Handover>(piano ? `/api/pianos/${encodeURIComponent(piano)}/handover` : null);
  const told = answer.value;
  const paper = told ? `${told.piano.name} · ${showDates(told)}` : "";
  useEffect(() => forPaper(paper, t("handover.page", { page: "{page}", pages: "{pages}" })), [paper]);
  return (
    <div class="handover">
      <div class="handover-tools">
        <Choice
          label={t("handover.show")}
          value={part.value}
          options={[
            { value: "owner", label: t("handover.owner") },
            { value: "file", label: t("handover.file") },
          ]}
          onChange={(value) => (part.value = value)}
        />
        <Button kind="main" onPress={() => print()} disabled={!told}>
          {t("handover.print")}
        </Button>
        <p class="quiet">{t("handover.print_hint")}</p>
      </div>
      {answer.problem && !told && <ProblemNotice problem={answer.problem} />}
      {!told && answer.loading && <p role="status">{t("handover.wait")}</p>}
      {told && (part.value === "owner" ? <OwnerPage told={told} /> : <FileSheet told={told} />)}
    </div>
  );
}
