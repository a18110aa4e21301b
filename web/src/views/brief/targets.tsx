// Targets by section, first and last note, and the needs and wants: settings of this piano.
import { useEffect, useState } from "preact/hooks";
import type { Need, Outline, TargetLine, Want } from "../../api/brief_types.ts";
import type { Problem } from "../../api/types.ts";
import { Button, Choice, Notice, NumberField, ProblemNotice, Why } from "../../controls/index.ts";
import { notePrinted } from "../../quantities/notes.ts";
import { readTyped } from "../../quantities/read.ts";
import { readingShown } from "../../quantities/kinds.ts";
import { language, unit } from "../../state/choices.ts";
import { enter } from "../../state/entering.ts";
import { pianoId } from "../../state/piano.ts";
import { capital } from "../../words/capital.ts";
import { hasWord, t, tReading, type Key } from "../../words/index.ts";
import { need } from "./wording.ts";

/** As a setting has it: a point, no superfluous digits. */
const plain = (value: number) => String(Number(value.toFixed(3)));

/** A value as it stands in a field: in the unit shown, the language's decimal mark. */
function inField(reading: string, value: number): string {
  const length = (readingShown[reading]?.unit ?? "mm") === "mm";
  const text = length && unit.peek() === "in" ? (value / 25.4).toFixed(3) : String(Number(value.toFixed(2)));
  return language.peek() === "de" ? text.replace(".", ",") : text;
}
function unitOf(reading: string): string {
  const kind = readingShown[reading]?.unit ?? "mm";
  return kind === "mm" ? unit.value : kind === "grade" ? "0–4" : kind === "" ? "0–1" : kind;
}

type Told = { said: string } | { problem: Problem } | null;
function Outcome({ told }: { told: Told }) {
  if (!told) return null;
  return "said" in told ? <p role="status">{told.said}</p> : <ProblemNotice problem={told.problem} />;
}

/** Writes one setting down; what is said of it. */
async function save(name: string, value: string): Promise<Told> {
  const piano = pianoId.peek();
  if (!piano) return null;
  const entered = await enter(piano, [{ kind: "setting", name, value }]);
  if (entered.state === "refused") return { problem: entered.problem };
  return { said: t(entered.state === "saved" ? "brief.saved" : "brief.saved_waiting") };
}

function TargetFields({ line, sections }: { line: TargetLine; sections: Outline["sections"] }) {
  const fresh = () => line.tapers.flatMap((taper) => [inField(line.reading, taper.at_first), inField(line.reading, taper.at_last)]);
  const [texts, setTexts] = useState(fresh);
  const [wrong, setWrong] = useState<Record<number, string>>({});
  const [told, setTold] = useState<Told>(null);
  const key = JSON.stringify(line.tapers);
  useEffect(() => {
    setTexts(fresh());
    setWrong({});
  }, [key, line.setting, unit.value, language.value]);
  const send = async () => {
    const values: number[] = [];
    const bad: Record<number, string> = {};
    texts.forEach((text, i) => {
      const read = readTyped(text, line.reading);
      if (read.ok) values.push(read.value);
      else bad[i] = t(`typed.${read.wrong}` as Key, { text, unit: unitOf(line.reading), example: "1.5" });
    });
    setWrong(bad);
    if (Object.keys(bad).length > 0) return;
    const parts: string[] = [];
    for (let i = 0; i < values.length; i += 2) {
      const [a, b] = [plain(values[i]!), plain(values[i + 1]!)];
      parts.push(a === b ? a : `${a} to ${b}`);
    }
    setTold(await save(line.setting, parts.join("; ")));
  };
  if (line.tapers.length === 0) return <p>{t("brief.no_target")}</p>;
  return (
    <>
      <div class="brief-tapers">
        {sections.map((section, s) => (
          <fieldset key={section.first} class="brief-taper">
            <legend>{t("brief.section", { first: notePrinted(section.first), last: notePrinted(section.last) })}</legend>
            {[section.first, section.last].map((note, end) => {
              const i = 2 * s + end;
              return (
                <NumberField
                  key={note}
                  label={t(end === 0 ? "brief.at_first" : "brief.at_last", { note: notePrinted(note) })}
                  unit={unitOf(line.reading)}
                  value={texts[i] ?? ""}
                  wrong={wrong[i] ?? null}
                  onInput={(text) => setTexts(texts.map((old, k) => (k === i ? text : old)))}
                  onEnter={() => void send()}
                />
              );
            })}
          </fieldset>
        ))}
      </div>
      <Button onPress={() => void send()}>{t("brief.save_targets", { reading: tReading(line.reading) })}</Button>
      <Outcome told={told} />
    </>
  );
}

export function Targets({ outline }: { outline: Outline }) {
  const [setting, setSetting] = useState("blow-target");
  const line = outline.targets.find((one) => one.setting === setting) ?? outline.targets[0];
  if (!line) return null;
  return (
    <section class="brief-section">
      <h2>{t("brief.targets")}</h2>
      <p class="brief-small">{t("brief.targets_hint")}</p>
      <Choice
        as="list"
        label={t("brief.target")}
        value={line.setting}
        options={outline.targets.map((one) => ({ value: one.setting, label: capital(tReading(one.reading)) }))}
        onChange={setSetting}
      />
      <TargetFields key={line.setting} line={line} sections={outline.sections} />
    </section>
  );
}

function NeedFields({ one }: { one: Need }) {
  const [low, setLow] = useState(() => inField("dip", one.low_mm));
  const [high, setHigh] = useState(() => inField("dip", one.high_mm));
  const [told, setTold] = useState<Told>(null);
  const [order, setOrder] = useState(false);
  useEffect(() => {
    setLow(inField("dip", one.low_mm));
    setHigh(inField("dip", one.high_mm));
  }, [one.low_mm, one.high_mm, unit.value, language.value]);
  const send = async () => {
    const a = readTyped(low, "dip");
    const b = readTyped(high, "dip");
    setOrder(!(a.ok && b.ok && a.value < b.value));
    if (a.ok && b.ok && a.value < b.value) setTold(await save(`need-${one.need}`, `${plain(a.value)} to ${plain(b.value)}`));
  };
  return (
    <fieldset class="brief-need">
      <legend>
        {capital(need(one.need))}{" "}
        <span class="brief-small">({t(one.on_record ? "brief.chosen_need" : "brief.usual_need")})</span>
      </legend>
      <NumberField label={t("brief.least")} unit={unit.value} value={low} onInput={setLow} onEnter={() => void send()} />
      <NumberField label={t("brief.most")} unit={unit.value} value={high} onInput={setHigh} onEnter={() => void send()} />
      <Button label={t("brief.save_need", { need: need(one.need) })} onPress={() => void send()}>
        {t("do.save")}
      </Button>
      {order && <Notice kind="doubt">{t("brief.order")}</Notice>}
      <Outcome told={told} />
    </fieldset>
  );
}

const weights = [0, 0.25, 0.5, 1, 3, 10];
function weightWords(weight: number): string {
  const key = `brief.weight.${weight}`;
  return hasWord(key) ? t(key) : t("brief.weight_other", { weight });
}

function WantChoice({ one }: { one: Want }) {
  const [told, setTold] = useState<Told>(null);
  const list = weights.includes(one.weight) ? weights : [...weights, one.weight].sort((a, b) => a - b);
  return (
    <div class="brief-want">
      <Choice
        as="list"
        label={capital(t(`brief.want.${one.want}` as Key))}
        value={String(one.weight)}
        options={list.map((weight) => ({ value: String(weight), label: weightWords(weight) }))}
        onChange={(weight) => void save(`want-${one.want}`, weight).then(setTold)}
      />
      <Outcome told={told} />
    </div>
  );
}

export function Wishes({ outline }: { outline: Outline }) {
  return (
    <section class="brief-section">
      <h2>{t("brief.needs")}</h2>
      <p class="brief-small">{t("brief.needs_hint")}</p>
      <Why label={t("brief.needs_open")}>
        <div class="brief-needs">
          {outline.needs.map((one) => (
            <NeedFields key={one.need} one={one} />
          ))}
        </div>
      </Why>
      <h2>{t("brief.wants")}</h2>
      <p class="brief-small">{t("brief.wants_hint")}</p>
      <div class="brief-wants">
        {outline.wants.map((one) => (
          <WantChoice key={one.want} one={one} />
        ))}
      </div>
    </section>
  );
}
