// What is here, what is due when, a day's work; new pianos and new visits.
import { signal } from "@preact/signals";
import { useEffect, useState } from "preact/hooks";
import { get, post } from "../../api/client.ts";
import type { Studio } from "../../api/studio_types.ts";
import type { PianosAnswer, PianoSummary, Problem } from "../../api/types.ts";
import { Button, Choice, FileButton, Notice, ProblemNotice, Sheet, TextField } from "../../controls/index.ts";
import { language } from "../../state/choices.ts";
import { newId } from "../../state/entering.ts";
import { pianosChanged } from "../../state/events.ts";
import { session } from "../../state/session.ts";
import { openPiano } from "../../state/where.ts";
import { t } from "../../words/index.ts";
import { BackupState } from "./backups.tsx";
import { ReadBundle } from "./bundle.tsx";
import { PianoCard } from "./card.tsx";
import { DayWork } from "./day.tsx";
import { inOrder, summary, type Order } from "./due.ts";
import { NewPiano } from "./new_piano.tsx";
import "./pianos.css";

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

const order = signal<Order>("due");

/** As asked for; those that the studio list does not have come last. */
function ordered(list: readonly PianoSummary[], studio: Studio | null): PianoSummary[] {
  if (!studio) return [...list];
  const places = new Map(inOrder(studio.pianos, order.value).map((id, place) => [id, place]));
  const place = (piano: PianoSummary) => places.get(piano.id) ?? places.size;
  return [...list].sort((a, b) => place(a) - place(b));
}

function StudioHead({ studio }: { studio: Studio }) {
  return (
    <div class="pianos-studio">
      <p>{summary(studio)}</p>
      <Choice
        label={t("studio.order")}
        as="list"
        value={order.value}
        options={(["due", "worst", "name"] as const).map((value) => ({ value, label: t(`studio.order.${value}`) }))}
        onChange={(value) => (order.value = value)}
      />
    </div>
  );
}

export function PianosView() {
  const [list, setList] = useState<PianoSummary[] | null>(null);
  const [studio, setStudio] = useState<Studio | null>(null);
  const [problem, setProblem] = useState<Problem | null>(null);
  const [adding, setAdding] = useState(false);
  const [reading, setReading] = useState(false);
  const [visiting, setVisiting] = useState<PianoSummary | null>(null);
  const known = session.value !== null;
  const changed = pianosChanged.value;
  const [turn, setTurn] = useState(0);
  useEffect(() => {
    let here = true;
    void get<PianosAnswer>("/api/pianos").then(async (answer) => {
      if (!here) return;
      if (answer.ok) setList(answer.value.pianos);
      setProblem(answer.ok ? null : answer.problem);
      // The pianos first: the first time after much work this one takes longer.
      const told = await get<Studio>("/api/studio");
      if (here && told.ok) setStudio(told.value);
    });
    return () => {
      here = false;
    };
  }, [changed, known, turn]);
  const several = (list?.length ?? 0) > 1;
  return (
    <div class="stack pianos">
      <div class="pianos-head">
        <h1>{t("pianos.title")}</h1>
        <div class="row">
          <Button onPress={() => setReading(true)}>{t("studio.bundle")}</Button>
          <Button kind={list?.length === 0 ? "main" : "plain"} onPress={() => setAdding(true)}>
            {t("pianos.new")}
          </Button>
        </div>
      </div>
      {problem && <ProblemNotice problem={problem} />}
      {list?.length === 0 && (
        <Notice heading={t("pianos.none")}>
          <p>{t("pianos.none.todo")}</p>
        </Notice>
      )}
      {studio && several && <StudioHead studio={studio} />}
      <ul class="plain-list pianos-list">
        {ordered(list ?? [], studio).map((piano) => (
          <PianoCard
            key={piano.id}
            piano={piano}
            studio={studio?.pianos.find((one) => one.id === piano.id) ?? null}
            onVisit={() => setVisiting(piano)}
          />
        ))}
      </ul>
      {studio && studio.pianos.length > 0 && (
        <>
          <DayWork pianos={studio.pianos} />
          <div class="row">
            <FileButton path={`/api/due.ics?language=${language.value}`}>{t("studio.calendar")}</FileButton>
          </div>
        </>
      )}
      <BackupState />
      <p class="quiet">{t("pianos.maker_first")}</p>
      {adding && <NewPiano onClose={() => setAdding(false)} />}
      {reading && <ReadBundle onClose={() => setReading(false)} onRead={() => setTurn((n) => n + 1)} />}
      {visiting && <BeginVisit piano={visiting} onClose={() => setVisiting(null)} />}
    </div>
  );
}
