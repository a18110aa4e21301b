// For those who work from paper: sheets to take to the bench, results typed back, gauges to cut.
import type { Plan } from "../../api/plan_types.ts";
import { Folded } from "../../controls/index.ts";
import { t } from "../../words/index.ts";
import { BenchSheets } from "./bench.tsx";
import { Gauges } from "./gauges.tsx";
import { TypedBack } from "./typed_back.tsx";

export function OnPaper({ plan }: { plan: Plan }) {
  return (
    <section class="on-paper">
      <h2>{t("paper.bench")}</h2>
      <Folded label={t("paper.sheets")}>
        <BenchSheets plan={plan} />
      </Folded>
      <Folded label={t("paper.back")}>
        <TypedBack />
      </Folded>
      <Folded label={t("paper.gauges")}>
        <Gauges />
      </Folded>
    </section>
  );
}
