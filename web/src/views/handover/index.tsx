// The page for the owner and the sheet for the file, on screen and on paper.
import { signal } from "@preact/signals";
import { useEffect } from "preact/hooks";
import type { HandoverPages } from "../../api/paper_types.ts";
import { Button, Choice, FileButton, ProblemNotice } from "../../controls/index.ts";
import { asAsked, pageLanguage, paperSize } from "../../paper/choices.ts";
import { forPaper } from "../../paper/edges.ts";
import { PageAs } from "../../paper/page_as.tsx";
import { PaperPage } from "../../paper/page.tsx";
import { useAnswer } from "../../state/answer.ts";
import { pianoId } from "../../state/piano.ts";
import { t } from "../../words/index.ts";
import { Own } from "./own_words.tsx";
import "./view.css";

type Part = "owner" | "file";
const part = signal<Part>("owner");

export function HandoverView() {
  const piano = pianoId.value;
  const base = piano ? `/api/pianos/${encodeURIComponent(piano)}/handover` : null;
  const answer = useAnswer<HandoverPages>(base && `${base}?${asAsked({}, false)}`);
  const page = answer.value?.[part.value] ?? null;
  const title = page ? [page.title, page.head[0]?.text].filter(Boolean).join(" · ") : "";
  const number = page?.number ?? "";
  const [size, one] = [paperSize.value, part.value === "owner"];
  useEffect(() => forPaper({ title, number, size, one }), [title, number, size, one]);
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
        <PageAs />
        <div class="row">
          <FileButton kind="main" path={`${base}.pdf?${asAsked()}`} disabled={!page}>
            {t("handover.pdf")}
          </FileButton>
          <Button onPress={() => print()} disabled={!page}>
            {t("handover.print")}
          </Button>
          <a class="shell-home" href="#/shop">
            {t("handover.letterhead")}
          </a>
        </div>
        <Own />
      </div>
      <div>
        {answer.problem && !page && <ProblemNotice problem={answer.problem} />}
        {!page && answer.loading && (
          <p role="status" aria-busy="true">
            {t("handover.wait")}
          </p>
        )}
        {page && <PaperPage page={page} language={pageLanguage.value} />}
      </div>
    </div>
  );
}
