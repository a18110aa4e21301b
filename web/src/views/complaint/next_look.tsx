// The look that would tell most, and its answer entered on the spot.
import { useState } from "preact/hooks";
import type { LookToTake, NextTaking } from "../../api/complaint_types.ts";
import { Button, Choice, NumberField, ProblemNotice, Why } from "../../controls/index.ts";
import { isSharp } from "../../quantities/notes.ts";
import { readTyped } from "../../quantities/read.ts";
import { readingShown } from "../../quantities/kinds.ts";
import { unit } from "../../state/choices.ts";
import { enter } from "../../state/entering.ts";
import { chosenKey, pianoId } from "../../state/piano.ts";
import { capital } from "../../words/capital.ts";
import { t, tCode, tHow, type Key } from "../../words/index.ts";
import type { Problem } from "../../api/types.ts";
import { asking, change, note, putLook } from "./asking.ts";
import { isTrial, lookName, share, taking } from "./wording.ts";


/** Sharps have readings of their own for two of the looks. */
function readingAt(look: LookToTake): string {
  if (!isSharp(chosenKey.peek())) return look.reading ?? look.look;
  if (look.look === "dip") return "sharp-dip";
  return look.reading ?? look.look;
}
function unitShown(reading: string): string {
  const kind = readingShown[reading]?.unit ?? "mm";
  if (kind === "mm") return unit.value;
  return kind === "grade" ? "0–4" : kind === "" ? "0–1" : kind;
}

function How({ look }: { look: LookToTake }) {
  const own = isTrial(look.look) ? tCode(`complaint.look.${look.look}.how`, "") : tHow(look.look);
  return own === "" ? <p lang="en">{look.how}</p> : <p>{own}</p>;
}

function Trial({ look }: { look: LookToTake }) {
  const grades = ["0", "1", "2"] as const;
  return (
    <Choice
      label={capital(lookName(look.look))}
      value={"" as string}
      options={grades.map((grade) => ({
        value: grade as string,
        label: tCode(`complaint.look.${look.look}.${grade}`, grade),
      }))}
      onChange={(grade) => putLook({ look: look.look, value: Number(grade) })}
    />
  );
}

function KeyHeight({ look }: { look: LookToTake }) {
  const [own, setOwn] = useState("");
  const [beside, setBeside] = useState("");
  const send = () => {
    const a = readTyped(own, look.look);
    const b = readTyped(beside, look.look);
    if (a.ok && b.ok) putLook({ look: look.look, value: a.value, beside: b.value });
  };
  return (
    <div class="complaint-pair">
      <NumberField label={t("complaint.this_key")} unit={unitShown(look.look)} value={own} onInput={setOwn} onEnter={send} />
      <NumberField label={t("complaint.beside")} unit={unitShown(look.look)} value={beside} onInput={setBeside} onEnter={send} />
      <Button onPress={send}>{t("complaint.answer")}</Button>
    </div>
  );
}

function Reading({ look }: { look: LookToTake }) {
  const [text, setText] = useState("");
  const [wrong, setWrong] = useState<string | null>(null);
  const [problem, setProblem] = useState<Problem | null>(null);
  const [waiting, setWaiting] = useState(false);
  const reading = readingAt(look);
  const send = async (typed: string) => {
    const piano = pianoId.peek();
    const read = readTyped(typed, reading);
    if (!read.ok) {
      setWrong(t(`typed.${read.wrong}` as Key, { text: typed, unit: unitShown(reading), example: "1.5" }));
      return;
    }
    setWrong(null);
    if (!piano) return;
    const entered = await enter(piano, [{ kind: "reading", reading, note: note.peek(), value: typed.trim() }]);
    if (entered.state === "refused") {
      setProblem(entered.problem);
      return;
    }
    setProblem(null);
    setText("");
    setWaiting(entered.state === "waiting");
  };
  return (
    <div>
      <div class="complaint-answer">
        <NumberField
          label={t("complaint.value", { look: capital(lookName(look.look)) })}
          unit={unitShown(reading)}
          value={text}
          wrong={wrong}
          onInput={setText}
          onEnter={(typed) => void send(typed)}
        />
        <Button onPress={() => void send(text)}>{t("complaint.answer")}</Button>
      </div>
      {look.can_be_none && (
        <Button kind="quiet" onPress={() => putLook({ look: look.look, value: null })}>
          {t("complaint.cannot_read", { why: tCode(`complaint.none.${look.look}`, look.none) })}
        </Button>
      )}
      {waiting && <p role="status">{t("complaint.waiting")}</p>}
      {problem && <ProblemNotice problem={problem} />}
    </div>
  );
}

function Look({ look }: { look: LookToTake }) {
  const trial = look.reading === null;
  const height = look.look === "key-height";
  return (
    <li class="complaint-look">
      <h4>{capital(lookName(look.look))}</h4>
      <How look={look} />
      {trial ? <Trial look={look} /> : height ? <KeyHeight look={look} /> : <Reading look={look} />}
      {(trial || height) && <p class="complaint-small">{t("complaint.not_journal")}</p>}
    </li>
  );
}

export function NextLook({ next }: { next: readonly NextTaking[] }) {
  const skipped = asking.value.skipped;
  const first = next.find((n) => !skipped.includes(n.taking));
  return (
    <section class="complaint-next" aria-labelledby="complaint-next-title">
      <h2 id="complaint-next-title">{t("complaint.next")}</h2>
      {first ? (
        <>
          <h3>{taking(first.taking)}</h3>
          <p class="complaint-small">
            {t("complaint.next_telling", {
              share: share(first.entropy_after_bits / Math.max(1e-9, first.entropy_before_bits)),
            })}
          </p>
          <ul class="complaint-looks">
            {first.looks.map((look) => (
              <Look key={`${note.value} ${look.look}`} look={look} />
            ))}
          </ul>
          <Button kind="quiet" onPress={() => change({ skipped: [...skipped, first.taking] })}>
            {t("complaint.skip")}
          </Button>
        </>
      ) : (
        <p>{t("complaint.no_more")}</p>
      )}
      {skipped.length > 0 && (
        <Why label={t("complaint.skipped", { count: skipped.length })}>
          <Button onPress={() => change({ skipped: [] })}>{t("complaint.bring_back")}</Button>
        </Why>
      )}
    </section>
  );
}
