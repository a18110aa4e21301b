// Over time: when the piano is due and why, what its visits tell, and its data to take along.
import type { Drift } from "../../api/drift_types.ts";
import { FileButton, ProblemNotice } from "../../controls/index.ts";
import { useAnswer } from "../../state/answer.ts";
import { pianoId } from "../../state/piano.ts";
import { t } from "../../words/index.ts";
import { Checks } from "./checks.tsx";
import { Climate } from "./climate.tsx";
import { Months, NextVisit } from "./outlook.tsx";
import { Visits } from "./visits.tsx";
import "./view.css";

export function OverTimeView() {
  const piano = pianoId.value;
  const answer = useAnswer<Drift>(piano ? `/api/pianos/${encodeURIComponent(piano)}/drift` : null);
  const drift = answer.value;
  if (!piano) return null;
  return (
    <div class="overtime">
      <h1>{t("view.overtime")}</h1>
      {answer.problem && !drift && <ProblemNotice problem={answer.problem} />}
      {!drift && answer.loading && (
        <p role="status" aria-busy="true">
          {t("overtime.wait")}
        </p>
      )}
      {drift && (
        <div class="overtime-outlook">
          <NextVisit drift={drift} />
          <Months drift={drift} />
        </div>
      )}
      <div class="overtime-columns">
        <Checks />
        {drift && <Climate known={drift.known_from} />}
      </div>
      <Visits />
      <section class="card stack" aria-labelledby="overtime-data">
        <h2 id="overtime-data">{t("overtime.data")}</h2>
        <p>{t("overtime.data.explain")}</p>
        <div class="row">
          <FileButton path={`/api/pianos/${encodeURIComponent(piano)}/bundle.json`}>
            {t("overtime.data.bundle")}
          </FileButton>
        </div>
      </section>
    </div>
  );
}
