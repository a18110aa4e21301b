// What is to give way, chosen for each register and put on record with its reason.
import { useState } from "preact/hooks";
import { post } from "../../api/client.ts";
import type { Departure, Outline, RegisterBrief } from "../../api/brief_types.ts";
import type { EntriesAnswer } from "../../api/entries.ts";
import type { Problem } from "../../api/types.ts";
import { Button, Choice, ProblemNotice, TextField } from "../../controls/index.ts";
import { showLength } from "../../quantities/show.ts";
import { datesAs } from "../../state/choices.ts";
import { newId } from "../../state/entering.ts";
import { pianoId, refresh } from "../../state/piano.ts";
import { t, tCode, tReading } from "../../words/index.ts";
import { asked } from "./asking.ts";
import { changeWords, place, priceWords, taperWords } from "./wording.ts";

function Way({ group, number, chosen, onChoose, way }: { group: string; number: number; chosen: boolean; onChoose: () => void; way: Departure | null }) {
  const name = way ? tCode(`brief.way.${way.code}`, way.code) : t("brief.way.sheet");
  return (
    <label class="brief-way">
      <input type="radio" name={group} checked={chosen} onChange={onChoose} />
      <span class="brief-way-text">
        <b>
          {number > 0 ? `${number} · ` : ""}
          {name}
        </b>
        {way && (
          <>
            <span>{changeWords(way)}.</span>
            <span>{t("brief.leaves", { aftertouch: showLength(way.figures.aftertouch_mm) })}</span>
            <span>{t("brief.price", { price: priceWords(way) })}</span>
          </>
        )}
      </span>
    </label>
  );
}

export function Ways() {
  const now = asked.value;
  const [chosen, setChosen] = useState<Record<string, number>>({});
  const [because, setBecause] = useState("");
  const [sending, setSending] = useState(false);
  const [problem, setProblem] = useState<Problem | null>(null);
  const [done, setDone] = useState<number | null>(null);
  // One identity for one acceptance: sent again after a lost answer, it is written down once.
  const [id, setId] = useState(newId);
  const whole = now?.whole ?? null;
  const open = whole?.registers.filter((r) => r.departures.length > 0) ?? [];
  // Sharps follow the naturals' line, whatever is chosen there (core/regulation/brief: accept_brief).
  const naturals = open.filter((r) => !r.sharp);
  const sharps = open.length > naturals.length;
  const common = (naturals[0]?.departures ?? [])
    .map((way) => way.code)
    .filter((code) => naturals.every((r) => r.departures.some((way) => way.code === code)));
  const [picked, setMode] = useState<string | null>(null);
  const mode = picked ?? common[0] ?? "each";
  const numberAt = (r: RegisterBrief) =>
    mode === "each" ? (chosen[r.note] ?? 1) : r.departures.findIndex((way) => way.code === mode) + 1;
  const accept = async () => {
    const piano = pianoId.peek();
    if (!piano || !whole) return;
    if (!sharps && naturals.every((r) => numberAt(r) === 0)) {
      setProblem({ happened: t("brief.nothing_chosen"), kept: "", todo: "" });
      return;
    }
    setSending(true);
    const answer = await post<EntriesAnswer>(`/api/pianos/${encodeURIComponent(piano)}/brief`, {
      id,
      revision: whole.revision,
      which: open.map((r) => (r.sharp ? 0 : numberAt(r))).join(","),
      because: because.trim(),
    });
    setSending(false);
    if (!answer.ok) {
      setProblem(answer.problem);
      return;
    }
    setProblem(null);
    setDone(answer.value.entries.filter((e) => e.kind === "setting").length);
    setChosen({});
    setBecause("");
    setId(newId());
    void refresh();
  };
  if (open.length === 0)
    return done === null ? null : (
      <p class="brief-whole" role="status">
        {t("brief.accepted", { count: done })}
      </p>
    );
  return (
    <section class="brief-section">
      <h2>{t("brief.ways")}</h2>
      <p class="brief-small">{t("brief.ways_hint", { against: t("brief.against_today") })}</p>
      {naturals.length > 1 && (
        <Choice
          label={t("brief.everywhere")}
          value={mode}
          options={[
            ...common.map((code) => ({ value: code, label: tCode(`brief.way.${code}`, code) })),
            { value: "each", label: t("brief.each") },
          ]}
          onChange={setMode}
        />
      )}
      {mode !== "each" && (
        <ul class="brief-record">
          {naturals.map((r) => {
            const way = r.departures[numberAt(r) - 1];
            return (
              way && (
                <li key={r.note}>
                  <p>
                    <b>{place(r)}</b>: {changeWords(way)}. {t("brief.leaves", { aftertouch: showLength(way.figures.aftertouch_mm) })}
                  </p>
                  <p class="brief-small">{t("brief.price", { price: priceWords(way) })}</p>
                </li>
              )
            );
          })}
        </ul>
      )}
      {mode === "each" && naturals.map((r) => (
        <fieldset key={r.note} class="brief-ways">
          <legend>{t("brief.way_at", { place: place(r) })}</legend>
          {r.departures.map((way, k) => (
            <Way
              key={way.code}
              group={r.note}
              number={k + 1}
              way={way}
              chosen={numberAt(r) === k + 1}
              onChoose={() => setChosen({ ...chosen, [r.note]: k + 1 })}
            />
          ))}
          <Way
            group={r.note}
            number={0}
            way={null}
            chosen={numberAt(r) === 0}
            onChoose={() => setChosen({ ...chosen, [r.note]: 0 })}
          />
        </fieldset>
      ))}
      {sharps && <p class="brief-small">{t("brief.sharps_follow")}</p>}
      <TextField label={t("brief.because")} hint={t("brief.because_hint")} value={because} onInput={setBecause} />
      <Button kind="main" disabled={sending} onPress={() => void accept()}>
        {sending ? t("brief.accepting") : t("brief.accept")}
      </Button>
      {problem && <ProblemNotice problem={problem} />}
      {done !== null && <p role="status">{t("brief.accepted", { count: done })}</p>}
    </section>
  );
}

const settingName = (name: string) => tReading(name.replace(/-target$/, ""));

export function OnRecord({ outline }: { outline: Outline }) {
  if (outline.accepted.length === 0) return null;
  const when = (at: number) =>
    new Date(at).toLocaleDateString(datesAs.value, { year: "numeric", month: "short", day: "numeric" });
  return (
    <section class="brief-section">
      <h2>{t("brief.on_record")}</h2>
      <ul class="brief-record">
        {outline.accepted.map((a) => (
          <li key={a.at_ms}>
            <p>
              {t("brief.record_line", {
                when: when(a.at_ms),
                who: a.who ? `, ${a.who}` : "",
                settings: a.settings.map((s) => `${settingName(s.name)} ${taperWords(s.value)}`).join("; "),
              })}
            </p>
            <p class="brief-small">
              {a.because ? t("brief.record_because", { because: a.because }) : t("brief.no_reason")}
            </p>
          </li>
        ))}
      </ul>
    </section>
  );
}
