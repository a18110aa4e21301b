// First readings: which note next and why, a number, Enter, and on to the next.
import { signal } from "@preact/signals";
import { useEffect, useRef, useState } from "preact/hooks";
import type { Problem, ReadNext } from "../../api/types.ts";
import { NoteReadings } from "../../charts/note_readings.tsx";
import { Button, Choice, Notice, NumberField, ProblemNotice, usePedal, Why } from "../../controls/index.ts";
import { readingShown } from "../../quantities/kinds.ts";
import { isSharp, keyOfNote, noteName, notePrinted } from "../../quantities/notes.ts";
import { takeNumber } from "../../quantities/number_text.ts";
import { readTyped } from "../../quantities/read.ts";
import { showReading, showSpread } from "../../quantities/show.ts";
import { useAnswer } from "../../state/answer.ts";
import { language, unit } from "../../state/choices.ts";
import { enter, takeBack } from "../../state/entering.ts";
import { chosenKey, pianoId, strip } from "../../state/piano.ts";
import { catalogue } from "../../state/session.ts";
import { hasWord, t, tHow, tReading } from "../../words/index.ts";
import { NoSections, PreparationGate } from "../settings/gate.tsx";
import { codeAt, doubtOf, expectation, type Doubt } from "./check.ts";
import { Keypad } from "./keypad.tsx";
import { Progress } from "./progress.tsx";
import "./readings.css";

type Order = "suggested" | "up" | "stay";
/** Empty until the server has said which tells most. */
const asked = signal("");
const order = signal<Order>("suggested");
const keypad = signal(typeof matchMedia !== "undefined" && matchMedia("(pointer: coarse)").matches);

interface Saved {
  id: string;
  code: string;
  key: number | null;
  value: number;
  state: "saved" | "waiting";
}

function doubtWords(doubt: Doubt, code: string, value: number): string {
  const typed = showReading(code, value);
  switch (doubt.kind) {
    case "impossible":
      return t("readings.impossible", {
        typed,
        name: tReading(code),
        low: showReading(code, doubt.low),
        high: showReading(code, doubt.high),
      });
    case "physics":
      return t("readings.physics", {
        typed,
        name: tReading(code),
        than: tReading(doubt.than),
        limit: showReading(doubt.than, doubt.limit),
      });
    case "unexpected":
      return t("readings.unexpected", {
        typed,
        mean: showReading(code, doubt.mean),
        spread: showSpread(code, doubt.sd),
      });
  }
}

function unitOf(code: string): string {
  const kind = readingShown[code]?.unit ?? "mm";
  return kind === "mm" ? unit.value : kind === "grade" ? t("readings.grade") : kind === "" ? t("readings.part") : kind;
}

export function ReadingsView() {
  const piano = pianoId.value;
  const next = useAnswer<ReadNext>(
    piano ? `/api/pianos/${encodeURIComponent(piano)}/read-next${asked.value ? `?reading=${asked.value}` : ""}` : null,
  );
  const [text, setText] = useState("");
  const [wrong, setWrong] = useState<string | null>(null);
  const [doubt, setDoubt] = useState<{ doubt: Doubt; value: number; text: string } | null>(null);
  const [saved, setSaved] = useState<Saved[]>([]);
  const [problem, setProblem] = useState<Problem | null>(null);
  const field = useRef<HTMLInputElement>(null);
  const read = useRef(new Set<string>());
  const reading = asked.value || (next.value?.suggestions[0]?.reading ?? "string-height");
  const kinds = catalogue.value?.readings ?? [];
  const chosenKind = kinds.find((kind) => kind.code === reading);
  const perNote = chosenKind?.per_note ?? true;
  const key = chosenKey.value;
  const code = perNote ? codeAt(reading, isSharp(key)) : reading;
  const kind = kinds.find((one) => one.code === code);
  const suggestions = (next.value?.suggestions ?? []).filter(
    (one) => !read.current.has(`${codeAt(one.reading, false)}@${one.note}`),
  );
  const here = suggestions.find((one) => keyOfNote(one.note) === key);

  // A new kind of reading begins where it tells most.
  const begun = useRef("");
  useEffect(() => {
    const first = suggestions[0] && keyOfNote(suggestions[0].note);
    if (!next.value || begun.current === reading) return;
    begun.current = reading;
    if (asked.peek() === "") asked.value = reading;
    read.current.clear();
    if (first && order.peek() === "suggested") chosenKey.value = first;
  }, [next.value]);
  useEffect(() => {
    setDoubt(null);
    setWrong(null);
  }, [key, reading]);
  // The field has the keyboard for the gauge, unless someone is on the way with the arrows.
  useEffect(() => {
    const at = document.activeElement;
    if (!(at?.closest(".strip, .readings-choose") && at.matches(":focus-visible"))) field.current?.focus();
  }, [key, reading]);

  const goOn = (by: 1 | -1) => {
    const now = strip.peek();
    const [low, high] = now ? [now.first, now.last] : [1, 88];
    if (order.peek() === "suggested" && by === 1) {
      const at = suggestions.find((one) => keyOfNote(one.note) !== key);
      const to = at && keyOfNote(at.note);
      if (to) chosenKey.value = to;
      return;
    }
    if (order.peek() === "stay") return;
    chosenKey.value = Math.max(low, Math.min(high, key + by));
  };
  usePedal({ next: () => goOn(1), back: () => goOn(-1) });

  const keep = async (value: number, typed: string) => {
    if (!piano) return;
    const at = perNote ? key : null;
    setText("");
    setDoubt(null);
    setProblem(null);
    read.current.add(`${codeAt(reading, false)}@${noteName(key)}`);
    // A bare number means the unit shown beside the field; the server takes it for the catalogue's.
    const taken = takeNumber(typed);
    const inches = taken.ok && taken.rest === "" && unit.peek() === "in" && (readingShown[code]?.unit ?? "mm") === "mm";
    const percent = taken.ok && taken.rest === "%" && readingShown[code]?.unit === "";
    const sent = inches ? `${typed.trim()} in` : percent ? `${value}` : typed.trim();
    const entering = enter(piano, [
      { kind: "reading", reading: code, ...(at ? { note: noteName(at) } : {}), value: sent },
    ]);
    goOn(1);
    field.current?.focus();
    const entered = await entering;
    // Shown with its choices above every view (shell/refused.tsx).
    if (entered.state === "refused") return;
    const id = entered.ids[0];
    if (id) setSaved((list) => [{ id, code, key: at, value, state: entered.state }, ...list].slice(0, 5));
  };
  const take = (typed: string) => {
    const found = readTyped(typed, code);
    if (!found.ok) {
      setWrong(
        t(`typed.${found.wrong}`, {
          text: typed.trim(),
          example: language.peek() === "de" ? "45,2" : "45.2",
          unit: unitOf(code),
        }),
      );
      return;
    }
    setWrong(null);
    const found_doubt = doubtOf(strip.peek(), kind, code, perNote ? key : null, found.value, kind?.uncertainty ?? 0.15);
    if (found_doubt) setDoubt({ doubt: found_doubt, value: found.value, text: typed });
    else void keep(found.value, typed);
  };
  const again = () => {
    setDoubt(null);
    setText("");
    field.current?.focus();
  };
  const undo = async (one: Saved) => {
    if (!piano) return;
    const entered = await takeBack(piano, one.id);
    if (entered.state === "refused") setProblem(entered.problem);
    else setSaved((list) => list.filter((other) => other.id !== one.id));
    if (one.key) chosenKey.value = one.key;
    field.current?.focus();
  };
  const expected = strip.value && perNote ? expectation(strip.value, code, key) : null;
  const whyKey = here ? `readings.why.${here.why}` : "";
  return (
    <div class="readings">
      {next.value?.lacking ? <NoSections /> : <PreparationGate />}
      <div class="readings-main">
        <div
          class="readings-choose row"
          onKeyDown={(event) => {
            if (event.key === "Enter") field.current?.focus();
          }}
        >
          <Choice
            label={t("readings.what")}
            as="list"
            value={reading}
            options={(kinds.length > 0 ? kinds.map((one) => one.code) : [reading]).map((value) => ({
              value,
              label: tReading(value),
            }))}
            onChange={(value) => {
              asked.value = value;
            }}
          />
          {perNote && (
            <Choice
              label={t("readings.order")}
              as="list"
              value={order.value}
              options={(["suggested", "up", "stay"] as const).map((value) => ({
                value,
                label: t(`readings.order.${value}`),
              }))}
              onChange={(value) => {
                order.value = value;
              }}
            />
          )}
        </div>
        <h1 class="readings-note">
          {perNote && <span class="readings-name">{notePrinted(noteName(key))}</span>} {tReading(code)}
        </h1>
        <p>
          {here && hasWord(whyKey)
            ? t(whyKey)
            : perNote && next.value && !next.value.lacking && suggestions.length === 0
              ? t("readings.enough")
              : tHow(code)}
        </p>
        {expected && (
          <p class="quiet">
            {t("readings.expected", { mean: showReading(code, expected.mean), spread: showSpread(code, expected.sd) })}
          </p>
        )}
        <div class="readings-entry">
          <NumberField
            label={t("readings.value")}
            unit={unitOf(code)}
            size="huge"
            value={text}
            onInput={(typed) => {
              setText(typed);
              setWrong(null);
              setDoubt(null);
            }}
            onEnter={take}
            wrong={wrong}
            inputRef={field}
            keyboard={keypad.value ? "none" : "decimal"}
            autofocus
          />
          {!keypad.value && (
            <Button kind="main" onPress={() => take(text)}>
              {t("readings.save")}
            </Button>
          )}
        </div>
        {doubt && (
          <div role="alert">
            <Notice
              kind={doubt.doubt.kind === "impossible" ? "stop" : "doubt"}
              heading={doubtWords(doubt.doubt, code, doubt.value)}
            >
              <p>{t("readings.nothing_kept")}</p>
              <div class="row">
                <Button kind="main" onPress={again}>
                  {t("readings.again")}
                </Button>
                {doubt.doubt.kind !== "impossible" && (
                  <Button onPress={() => void keep(doubt.value, doubt.text)}>{t("readings.anyway")}</Button>
                )}
              </div>
            </Notice>
          </div>
        )}
        {problem && <ProblemNotice problem={problem} />}
        {keypad.value && (
          <Keypad
            onKey={(character) => {
              setWrong(null);
              setDoubt(null);
              setText((now) => now + character);
            }}
            onBack={() => setText((now) => now.slice(0, -1))}
            onEnter={() => take(text)}
          />
        )}
        {here && (
          <Why label={t("readings.how")}>
            <p>{tHow(code)}</p>
          </Why>
        )}
        <div class="row">
          {perNote && (
            <>
              <Button onPress={() => goOn(-1)}>{t("readings.back")}</Button>
              <Button onPress={() => goOn(1)}>{t("readings.skip")}</Button>
            </>
          )}
          <Button kind="quiet" pressed={keypad.value} onPress={() => (keypad.value = !keypad.value)}>
            {t("readings.keypad")}
          </Button>
        </div>
      </div>
      <div class="readings-side">
        {saved.length > 0 && (
          <section>
            <h2>{t("readings.just")}</h2>
            <ul class="plain-list" aria-live="polite">
              {saved.map((one) => (
                <li key={one.id} class="row">
                  <span>
                    {one.key && notePrinted(one.key)} {tReading(one.code)}{" "}
                    <strong class="number">{showReading(one.code, one.value)}</strong>{" "}
                    <span class="quiet">{t(`readings.${one.state}`)}</span>
                  </span>
                  <Button
                    kind="quiet"
                    label={t("readings.undo_one", {
                      what: `${one.key ? notePrinted(one.key) : ""} ${tReading(one.code)}`,
                    })}
                    onPress={() => void undo(one)}
                  >
                    {t("do.undo")}
                  </Button>
                </li>
              ))}
            </ul>
          </section>
        )}
        {perNote && <NoteReadings note={noteName(key)} only={code} />}
        <Progress progress={next.value?.progress ?? []} code={reading} onChoose={(value) => (asked.value = value)} />
      </div>
    </div>
  );
}
