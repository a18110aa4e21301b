// Ten digits under the thumb, for hands without a keyboard or a gauge.
import { language } from "../../state/choices.ts";
import { t } from "../../words/index.ts";

interface Props {
  onKey: (character: string) => void;
  onBack: () => void;
  onEnter: () => void;
}

export function Keypad({ onKey, onBack, onEnter }: Props) {
  const mark = language.value === "de" ? "," : ".";
  const digit = (one: string) => (
    <button key={one} type="button" onClick={() => onKey(one)}>
      {one === "-" ? "−" : one}
    </button>
  );
  return (
    <div class="readings-keypad" role="group" aria-label={t("readings.keypad")}>
      {["7", "8", "9"].map(digit)}
      <button type="button" aria-label={t("readings.keypad.back")} onClick={onBack}>
        ⌫
      </button>
      {["4", "5", "6", "-", "1", "2", "3"].map(digit)}
      <button type="button" class="readings-keypad-enter" onClick={onEnter}>
        {t("readings.save")}
      </button>
      {["0", mark, "/"].map(digit)}
    </div>
  );
}
