// After something has happened: what to look at first.
import { signal } from "@preact/signals";
import type { After, FirstCheck, FirstChecks } from "../../api/drift_types.ts";
import { Choice, ProblemNotice } from "../../controls/index.ts";
import { notePrinted } from "../../quantities/notes.ts";
import { showNumber, thin } from "../../quantities/show.ts";
import { useAnswer } from "../../state/answer.ts";
import { pianoId } from "../../state/piano.ts";
import { capital } from "../../words/capital.ts";
import { plural, t, tCode, tHow, tReading } from "../../words/index.ts";
import { checkWords } from "./wording.ts";

const events = ["dry", "wet", "heavy-use", "new-felt", "transport", "new-hammers"] as const;
const first = 4; // shown at once
const after = signal<After>("dry");

function Check({ check }: { check: FirstCheck }) {
  return (
    <li>
      <strong>{capital(tReading(check.reading))}</strong>
      {check.notes.length > 0 && (
        <p>{t("overtime.checks.read_at", { notes: check.notes.map(notePrinted).join(", ") })}</p>
      )}
      <p>{checkWords(check)}</p>
      <p class="quiet">{tHow(check.reading)}</p>
    </li>
  );
}

/** What was assumed of the spell. */
function Assumed({ told }: { told: FirstChecks }) {
  if (told.moisture !== 0)
    return (
      <p class="quiet">
        {t(told.moisture < 0 ? "overtime.checks.drier" : "overtime.checks.damper", {
          by: `${showNumber(Math.abs(told.moisture), 1)}${thin}%`,
        })}
      </p>
    );
  return told.hours > 0 ? (
    <p class="quiet">{t("overtime.checks.hours", { hours: showNumber(told.hours, 0) })}</p>
  ) : null;
}

function Told({ told }: { told: FirstChecks }) {
  if (told.listed.length > 0)
    return (
      <>
        <p class="quiet">{t(told.listed_is_ours ? "overtime.checks.practice" : "overtime.checks.own_list")}</p>
        <ol class="overtime-checks">
          {told.listed.map((line) => (
            <li key={line}>{told.listed_is_ours ? tCode(line, line) : line}</li>
          ))}
        </ol>
        {told.listed_is_ours && (
          <p>
            <a href="#/shop">{t("overtime.checks.change_list")}</a>
          </p>
        )}
      </>
    );
  const rest = told.checks.slice(first);
  if (told.checks.length === 0) return <p>{t("overtime.checks.none")}</p>;
  return (
    <>
      <p class="quiet">{t("overtime.checks.model")}</p>
      <Assumed told={told} />
      {told.known_from.pairs === 0 && <p class="quiet">{t("overtime.checks.little")}</p>}
      <ol class="overtime-checks">
        {told.checks.slice(0, first).map((check) => (
          <Check key={check.reading} check={check} />
        ))}
      </ol>
      {rest.length > 0 && (
        <details class="why">
          <summary>{plural("overtime.checks.more", rest.length)}</summary>
          <ol class="overtime-checks" start={first + 1}>
            {rest.map((check) => (
              <Check key={check.reading} check={check} />
            ))}
          </ol>
        </details>
      )}
    </>
  );
}

export function Checks() {
  const piano = pianoId.value;
  const path = piano ? `/api/pianos/${encodeURIComponent(piano)}/first-checks?after=${after.value}` : null;
  const answer = useAnswer<FirstChecks>(path);
  return (
    <section class="card stack" aria-labelledby="overtime-checks">
      <h2 id="overtime-checks">{t("overtime.checks")}</h2>
      <Choice
        label={t("overtime.checks.after")}
        value={after.value}
        options={events.map((value) => ({ value, label: t(`overtime.after.${value}`) }))}
        onChange={(value) => (after.value = value)}
      />
      {answer.problem && !answer.value && <ProblemNotice problem={answer.problem} />}
      {answer.value && <Told told={answer.value} />}
    </section>
  );
}
