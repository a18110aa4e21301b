// All that may be asked of a step, in the user's words.
import { useState } from "preact/hooks";
import { get } from "../../api/client.ts";
import type { WhyAnswer } from "../../api/plan_types.ts";
import { Why } from "../../controls/index.ts";
import { language } from "../../state/choices.ts";
import { pianoId, planMinutes } from "../../state/piano.ts";
import { t } from "../../words/index.ts";
import { reasonWords } from "./reasons.ts";

type State = "asking" | "silent" | WhyAnswer;

export function WhyAll({ note, adjuster, label }: { note: string; adjuster: string; label?: string }) {
  const [said, setSaid] = useState<State | null>(null);
  const ask = () => {
    if (said !== null && said !== "silent") return;
    setSaid("asking");
    const minutes = planMinutes.peek();
    const query = new URLSearchParams({ note, adjuster, ...(minutes === null ? {} : { minutes: `${minutes}` }) });
    void get<WhyAnswer>(`/api/pianos/${encodeURIComponent(pianoId.peek() ?? "")}/why?${query}`).then((answer) =>
      setSaid(answer.ok ? answer.value : "silent"),
    );
  };
  return (
    <Why label={label} onOpen={ask}>
      {said === "silent" ? (
        <p>{t("why.silent")}</p>
      ) : said === null || said === "asking" ? (
        <p class="quiet">{t("why.asking")}</p>
      ) : (
        <dl class="hands-reasons">
          {said.because.map((one) => {
            const own = reasonWords(one);
            return (
              <div key={one.code}>
                <dt>{own?.heading ?? one.heading}</dt>
                <dd {...(own || language.value === "en" ? {} : { lang: "en" })}>{own?.text ?? one.text}</dd>
              </div>
            );
          })}
        </dl>
      )}
    </Why>
  );
}
