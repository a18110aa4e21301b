// What this piano is to be: whether its sheet can be met, what must give way, and the wishes.
import { useEffect } from "preact/hooks";
import { ProblemNotice } from "../../controls/index.ts";
import { pianoId, steadyRevision } from "../../state/piano.ts";
import { t } from "../../words/index.ts";
import { ask, asked, problem, stop } from "./asking.ts";
import { MapOf } from "./map.tsx";
import { Registers } from "./registers.tsx";
import { Targets, Wishes } from "./targets.tsx";
import { OnRecord, Ways } from "./ways.tsx";
import "./view.css";

export function BriefView() {
  const piano = pianoId.value;
  const now = steadyRevision.value;
  useEffect(() => {
    if (piano) void ask(piano);
  }, [piano, now]);
  // Whoever goes elsewhere does not want the rest.
  useEffect(() => stop, []);
  const outline = asked.value?.piano === piano ? asked.value?.outline : undefined;
  return (
    <div class="brief-view">
      <div>
        <h1>{t("brief.title")}</h1>
        <p>{t("brief.lead")}</p>
      </div>
      {problem.value && <ProblemNotice problem={problem.value} />}
      {outline && (
        <>
          <Registers />
          <Ways />
          <OnRecord outline={outline} />
          <MapOf registers={outline.registers} />
          <Targets outline={outline} />
          <Wishes outline={outline} />
          <p class="brief-small">
            {t(outline.profile_chosen ? "brief.model_chosen" : "brief.model_usual", { profile: outline.profile })}
          </p>
        </>
      )}
    </div>
  );
}
