// A day's work: which pianos within the hours there are, in which order, and what is left out.
import { useState } from "preact/hooks";
import { get } from "../../api/client.ts";
import type { DayPlan, Studio, StudioPiano } from "../../api/studio_types.ts";
import type { Problem } from "../../api/types.ts";
import { Button, ProblemNotice, Stepper } from "../../controls/index.ts";
import { showMinutes } from "../../quantities/show.ts";
import { writePlace } from "../../state/where.ts";
import { t, tCode } from "../../words/index.ts";

const step = 0.5; // hours
const most = 14;

export function DayWork({ pianos }: { pianos: readonly StudioPiano[] }) {
  const [promised, setPromised] = useState<ReadonlySet<string>>(new Set());
  const [hours, setHours] = useState(6);
  const [day, setDay] = useState<DayPlan | null>(null);
  const [problem, setProblem] = useState<Problem | null>(null);
  const plan = async () => {
    const fixed = [...promised].map(encodeURIComponent).join(",");
    const answer = await get<Studio>(`/api/studio?hours=${hours}${fixed && `&fixed=${fixed}`}`);
    if (answer.ok) setDay(answer.value.day);
    setProblem(answer.ok ? null : answer.problem);
  };
  return (
    <section class="card stack" aria-labelledby="studio-day">
      <h2 id="studio-day">{t("studio.day")}</h2>
      <p class="quiet">{t("studio.day.explain")}</p>
      <div class="row">
        <Stepper
          label={t("studio.day.hours")}
          value={showMinutes(60 * hours)}
          less={t("studio.day.less")}
          more={t("studio.day.more")}
          onLess={() => setHours(hours - step)}
          onMore={() => setHours(hours + step)}
          lessDisabled={hours <= step}
          moreDisabled={hours >= most}
        />
        <Button kind="main" onPress={() => void plan()}>
          {t("studio.day.plan")}
        </Button>
      </div>
      {pianos.length > 1 && (
        <details class="why">
          <summary>{t("studio.day.promised")}</summary>
          <ul class="plain-list pianos-promised">
            {pianos.map((piano) => (
              <li key={piano.id}>
                <label class="pianos-check">
                  <input
                    type="checkbox"
                    checked={promised.has(piano.id)}
                    onChange={(event) => {
                      const now = new Set(promised);
                      if (event.currentTarget.checked) now.add(piano.id);
                      else now.delete(piano.id);
                      setPromised(now);
                    }}
                  />
                  {piano.name}
                </label>
              </li>
            ))}
          </ul>
        </details>
      )}
      {problem && <ProblemNotice problem={problem} />}
      <div role="status">{day && <Planned day={day} />}</div>
    </section>
  );
}

const why = (code: string) => tCode(`studio.why.${code}`, code);
const link = (piano: string) => writePlace({ view: "worklist", piano, note: null });

function Planned({ day }: { day: DayPlan }) {
  return (
    <div class="stack">
      {day.stops.length === 0 ? (
        <p>{t("studio.day.none")}</p>
      ) : (
        <>
          <p>{t("studio.day.used", { used: showMinutes(day.minutes_used), of: showMinutes(day.minutes_there_are) })}</p>
          <ol class="pianos-stops">
            {day.stops.map((stop) => (
              <li key={stop.id}>
                <a class="pianos-open" href={link(stop.id)}>
                  <strong>{stop.name}</strong>
                </a>
                <p>
                  {[
                    stop.place,
                    t("studio.day.stop", {
                      minutes: showMinutes(stop.minutes),
                      between: showMinutes(stop.between_minutes),
                    }),
                    why(stop.why),
                  ]
                    .filter(Boolean)
                    .join(" · ")}
                </p>
              </li>
            ))}
          </ol>
        </>
      )}
      {day.left_out.length > 0 && (
        <div>
          <h3>{t("studio.day.left_out")}</h3>
          <ul class="pianos-stops">
            {day.left_out.map((one) => (
              <li key={one.id}>
                <a class="pianos-open" href={link(one.id)}>
                  {one.name}
                </a>
                <p class="quiet">
                  {[one.minutes === null ? "" : showMinutes(one.minutes), why(one.why)].filter(Boolean).join(" · ")}
                </p>
              </li>
            ))}
          </ul>
        </div>
      )}
    </div>
  );
}
