// Done otherwise than asked: left with a reason, read again first, another amount.
import { useEffect, useRef, useState } from "preact/hooks";
import type { Step, TurnStep } from "../../api/plan_types.ts";
import { Button, NumberField, Sheet, Stepper, TextField, Why } from "../../controls/index.ts";
import { notePrinted } from "../../quantities/notes.ts";
import { showAmount } from "../../quantities/show.ts";
import { link } from "../../state/link.ts";
import { t, tDirection, tReading } from "../../words/index.ts";
import { fieldUnit, readingEntry, wrongWords } from "./fields.ts";
import { answerStep, readBeforeMove, told } from "./state.ts";
import { capital } from "../../words/capital.ts";
import { stepped } from "./wording.ts";

const reasons = ["stripped", "loose", "reach", "wish", "visit"] as const;

export function LeaveSheet({ step, onClose }: { step: Step; onClose: () => void }) {
  const [other, setOther] = useState("");
  const leave = (reason: string) => {
    onClose();
    answerStep("left", [{ kind: "skip", adjuster: step.adjuster, note: step.note, reason }]);
  };
  return (
    <Sheet title={t("hands.leave.title", { note: notePrinted(step.note) })} onClose={onClose}>
      <p>{t("hands.leave.text")}</p>
      <div class="hands-reasons-list">
        {reasons.map((one) => (
          <Button key={one} onPress={() => leave(t(`hands.leave.${one}`))}>
            {t(`hands.leave.${one}`)}
          </Button>
        ))}
      </div>
      <TextField label={t("hands.leave.other")} value={other} onInput={setOther} onEnter={(text) => text.trim() && leave(text.trim())} />
      <Button kind="main" disabled={other.trim() === ""} onPress={() => leave(other.trim())}>
        {t("hands.leave.save")}
      </Button>
    </Sheet>
  );
}

export function AgainSheet({ step, onClose }: { step: TurnStep; onClose: () => void }) {
  const [text, setText] = useState("");
  const [wrong, setWrong] = useState("");
  const input = useRef<HTMLInputElement>(null);
  useEffect(() => input.current?.focus(), []);
  const save = (typed: string) => {
    const said = wrongWords(typed, step.reading);
    if (said) return setWrong(said);
    onClose();
    told.value = t(link.peek() === "live" ? "hands.again.saved" : "hands.again.waiting");
    readBeforeMove([readingEntry(step, typed)]);
  };
  return (
    <Sheet title={t("hands.again.title", { note: notePrinted(step.note) })} onClose={onClose}>
      <p>{t("hands.again.text")}</p>
      <NumberField
        label={capital(tReading(step.reading))}
        value={text}
        unit={fieldUnit(step.reading)}
        size="huge"
        hint={t("hands.field.hint")}
        wrong={wrong}
        inputRef={input}
        onInput={(typed) => {
          setText(typed);
          setWrong("");
        }}
        onEnter={save}
      />
      <Button kind="main" onPress={() => save(text)}>
        {t("hands.done.read")}
      </Button>
    </Sheet>
  );
}

export function OtherAmount({ step, least, onDone }: { step: TurnStep; least: number; onDone: (amount: number) => void }) {
  const [amount, setAmount] = useState(step.amount);
  useEffect(() => setAmount(step.amount), [step]);
  const words = `${tDirection(step.adjuster, amount)} ${showAmount(step.adjuster, amount)}`;
  return (
    <Why label={t("hands.other")}>
      <div class="row">
        <Stepper
          label={t("hands.other.label")}
          value={words}
          less={t("hands.other.less", { direction: tDirection(step.adjuster, -1) })}
          more={t("hands.other.more", { direction: tDirection(step.adjuster, 1) })}
          onLess={() => setAmount(stepped(amount, -1, least))}
          onMore={() => setAmount(stepped(amount, 1, least))}
        />
        <Button onPress={() => onDone(amount)} class="hands-button-other">
          {t("hands.other.save")}
        </Button>
      </div>
    </Why>
  );
}
