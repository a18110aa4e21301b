// One piano: what it is, when it is due, what the next visit needs.
import type { StudioPiano } from "../../api/studio_types.ts";
import type { PianoDue, PianoSummary } from "../../api/types.ts";
import { Button } from "../../controls/index.ts";
import { notePrinted } from "../../quantities/notes.ts";
import { datesAs } from "../../state/choices.ts";
import { openPiano, writePlace } from "../../state/where.ts";
import { capital } from "../../words/capital.ts";
import { plural, t } from "../../words/index.ts";
import { dueWords, factsOf, signs } from "./due.ts";

function Due({ due, piano }: { due: PianoDue; piano: string }) {
  return (
    <p>
      <a class={`pianos-due pianos-due-${due.state}`} href={writePlace({ view: "overtime", piano, note: null })}>
        <span class="pianos-sign" aria-hidden="true">
          {signs[due.state]}
        </span>
        {capital(dueWords(due))}
      </a>
    </p>
  );
}

interface Props {
  piano: PianoSummary;
  /** Not yet, or not of this piano: null. */
  studio: StudioPiano | null;
  onVisit: () => void;
}
export function PianoCard({ piano, studio, onVisit }: Props) {
  const day = new Intl.DateTimeFormat(datesAs.value, { dateStyle: "medium", timeStyle: "short" });
  const { latest_visit: visit } = piano;
  const due = studio?.due ?? piano.due;
  return (
    <li class="card pianos-card">
      <div>
        <h2>
          <a class="pianos-open" href={writePlace({ view: "worklist", piano: piano.id, note: null })}>
            {piano.name}
          </a>
        </h2>
        <p>
          {[
            piano.place,
            t("settings.compass", { lowest: notePrinted(piano.lowest), highest: notePrinted(piano.highest) }),
          ]
            .filter(Boolean)
            .join(" · ")}
        </p>
        {due && <Due due={due} piano={piano.id} />}
        {studio && <p>{capital(factsOf(studio).join(" · "))}</p>}
        {visit && (
          <p class="quiet">
            {t("pianos.visit_begun", {
              title: visit.title || t("settings.visit.untitled"),
              when: day.format(new Date(visit.begun)),
            })}
          </p>
        )}
        <p class="quiet">
          {plural("pianos.entries", piano.entries)} · {plural("pianos.visits", piano.visits)}
        </p>
      </div>
      <div class="row">
        <Button kind="main" label={t("pianos.open_one", { name: piano.name })} onPress={() => openPiano(piano.id)}>
          {t("pianos.open")}
        </Button>
        <Button label={t("pianos.visit_one", { name: piano.name })} onPress={onVisit}>
          {t("pianos.visit")}
        </Button>
      </div>
    </li>
  );
}
