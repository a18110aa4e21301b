// What is here, what was last done when; new pianos and new visits.
import { useEffect, useState } from "preact/hooks";
import { get, post } from "../../api/client.ts";
import type { PianosAnswer, PianoSummary, Problem } from "../../api/types.ts";
import { Button, Notice, ProblemNotice, Sheet, TextField } from "../../controls/index.ts";
import { notePrinted } from "../../quantities/notes.ts";
import { datesAs } from "../../state/choices.ts";
import { newId } from "../../state/entering.ts";
import { pianosChanged } from "../../state/events.ts";
import { session } from "../../state/session.ts";
import { openPiano, writePlace } from "../../state/where.ts";
import { plural, t } from "../../words/index.ts";
import { NewPiano } from "./new_piano.tsx";
import "./pianos.css";

function Card({ piano, onVisit }: { piano: PianoSummary; onVisit: () => void }) {
  const day = new Intl.DateTimeFormat(datesAs.value, { dateStyle: "medium", timeStyle: "short" });
  const { latest_visit: visit } = piano;
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
        {visit && (
          <p>
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

function BeginVisit({ piano, onClose }: { piano: PianoSummary; onClose: () => void }) {
  const [title, setTitle] = useState("");
  const [problem, setProblem] = useState<Problem | null>(null);
  const [id] = useState(newId);
  const begin = async () => {
    const answer = await post<unknown>(`/api/pianos/${encodeURIComponent(piano.id)}/visits`, {
      id,
      title: title.trim(),
    });
    if (answer.ok) openPiano(piano.id);
    else setProblem(answer.problem);
  };
  return (
    <Sheet title={t("pianos.visit_of", { name: piano.name })} onClose={onClose}>
      <div class="stack">
        <p>{t("pianos.visit.explain")}</p>
        <TextField
          label={t("pianos.visit.title")}
          hint={t("pianos.visit.title.hint")}
          value={title}
          onInput={setTitle}
          onEnter={() => void begin()}
          autofocus
        />
        {problem && <ProblemNotice problem={problem} />}
        <Button kind="main" onPress={() => void begin()}>
          {t("pianos.visit")}
        </Button>
      </div>
    </Sheet>
  );
}

export function PianosView() {
  const [list, setList] = useState<PianoSummary[] | null>(null);
  const [problem, setProblem] = useState<Problem | null>(null);
  const [adding, setAdding] = useState(false);
  const [visiting, setVisiting] = useState<PianoSummary | null>(null);
  const known = session.value !== null;
  const changed = pianosChanged.value;
  useEffect(() => {
    let here = true;
    void get<PianosAnswer>("/api/pianos").then((answer) => {
      if (!here) return;
      if (answer.ok) setList(answer.value.pianos);
      setProblem(answer.ok ? null : answer.problem);
    });
    return () => {
      here = false;
    };
  }, [changed, known]);
  return (
    <div class="stack">
      <div class="pianos-head">
        <h1>{t("pianos.title")}</h1>
        <Button kind={list?.length === 0 ? "main" : "plain"} onPress={() => setAdding(true)}>
          {t("pianos.new")}
        </Button>
      </div>
      {problem && <ProblemNotice problem={problem} />}
      {list?.length === 0 && (
        <Notice heading={t("pianos.none")}>
          <p>{t("pianos.none.todo")}</p>
        </Notice>
      )}
      <ul class="plain-list pianos-list">
        {list?.map((piano) => (
          <Card key={piano.id} piano={piano} onVisit={() => setVisiting(piano)} />
        ))}
      </ul>
      <p class="quiet">{t("pianos.maker_first")}</p>
      {adding && <NewPiano onClose={() => setAdding(false)} />}
      {visiting && <BeginVisit piano={visiting} onClose={() => setVisiting(null)} />}
    </div>
  );
}
