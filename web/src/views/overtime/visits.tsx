// The visits on record, and any two of them to be compared.
import { useState } from "preact/hooks";
import type { VisitsCompared } from "../../api/visits_types.ts";
import { Choice, ProblemNotice } from "../../controls/index.ts";
import { useAnswer } from "../../state/answer.ts";
import { head, pianoId } from "../../state/piano.ts";
import { t } from "../../words/index.ts";
import { Compared, visitWords } from "./compare.tsx";

export function Visits() {
  const piano = pianoId.value;
  // Oldest first.
  const visits = head.value?.visits ?? [];
  const [chosen, setChosen] = useState<{ from: string | null; to: string | null }>({ from: null, to: null });
  const to = visits.find((one) => one.id === chosen.to) ?? visits.at(-1);
  const earlier = visits.slice(0, to ? visits.indexOf(to) : 0);
  const from = earlier.find((one) => one.id === chosen.from) ?? earlier.at(-1);
  const path =
    piano && from && to
      ? `/api/pianos/${encodeURIComponent(piano)}/visits/compare?from=${encodeURIComponent(from.id)}&to=${encodeURIComponent(to.id)}`
      : null;
  const answer = useAnswer<VisitsCompared>(path);
  if (!piano) return null;
  return (
    <section class="card stack" aria-labelledby="overtime-compare">
      <h2 id="overtime-compare">{t(visits.length > 1 ? "overtime.compare" : "overtime.visits")}</h2>
      {visits.length === 0 && <p>{t("overtime.visits.none")}</p>}
      {visits.length === 1 && to && (
        <>
          <p>{visitWords(to)}</p>
          <p class="quiet">{t("overtime.visits.one_only")}</p>
        </>
      )}
      {from && to && (
        <>
          <div class="overtime-choose">
            <Choice
              label={t("overtime.compare.from")}
              as="list"
              value={from.id}
              options={earlier.map((one) => ({ value: one.id, label: visitWords(one) }))}
              onChange={(id) => setChosen({ ...chosen, from: id })}
            />
            <Choice
              label={t("overtime.compare.to")}
              as="list"
              value={to.id}
              options={visits.slice(1).map((one) => ({ value: one.id, label: visitWords(one) }))}
              onChange={(id) => setChosen({ ...chosen, to: id })}
            />
          </div>
          {answer.problem && !answer.value && <ProblemNotice problem={answer.problem} />}
          {!answer.value && answer.loading && (
            <p role="status" aria-busy="true">
              {t("overtime.wait")}
            </p>
          )}
          {answer.value && <Compared told={answer.value} />}
        </>
      )}
    </section>
  );
}
