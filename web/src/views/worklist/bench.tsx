// Sheets to work from at the piano, a pass each or the whole plan.
import { signal } from "@preact/signals";
import type { Plan } from "../../api/plan_types.ts";
import { Choice, FileButton } from "../../controls/index.ts";
import { asAsked } from "../../paper/choices.ts";
import { PageAs } from "../../paper/page_as.tsx";
import { pianoId } from "../../state/piano.ts";
import { t } from "../../words/index.ts";
import { capital } from "../../words/capital.ts";
import { passName } from "../hands/wording.ts";

const large = signal<"yes" | "no">("yes");

/** Where a sheet is had; of all passes, each on its own, without `pass`. */
export function sheetPath(piano: string, pass: string | null, largeType: boolean): string {
  const more: Record<string, string> = {};
  if (pass) more["pass"] = pass;
  if (largeType) more["large"] = "1";
  return `/api/pianos/${encodeURIComponent(piano)}/sheet.pdf?${asAsked(more)}`;
}

export function BenchSheets({ plan }: { plan: Plan }) {
  const piano = pianoId.value;
  if (!piano) return null;
  const path = (pass: string | null) => sheetPath(piano, pass, large.value === "yes");
  return (
    <div class="stack">
      <p>{t("paper.sheets.what")}</p>
      <PageAs>
        <Choice
          label={t("paper.large")}
          value={large.value}
          options={(["yes", "no"] as const).map((value) => ({ value, label: t(`paper.large.${value}`) }))}
          onChange={(value) => (large.value = value)}
        />
      </PageAs>
      {plan.passes.length === 0 ? (
        <p>{t("paper.sheets.none")}</p>
      ) : (
        <div class="row">
          {plan.passes.map((pass, i) => (
            <FileButton key={pass.adjuster} path={path(pass.adjuster)}>
              {t("worklist.step", { number: i + 1, pass: capital(passName(pass.adjuster)) })}
            </FileButton>
          ))}
          <FileButton path={path(null)}>{t("paper.plan")}</FileButton>
        </div>
      )}
    </div>
  );
}
