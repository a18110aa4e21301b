// Every setting of the note as a slider.
import { computed, useComputed } from "@preact/signals";
import { memo } from "preact/compat";
import type { NoteAdjuster } from "../../api/note_types.ts";
import { Button } from "../../controls/index.ts";
import { t, tAdjuster } from "../../words/index.ts";
import { facts, moves, setMove, setMoves } from "./asking.ts";
import { SetsLine } from "./readings.tsx";
import { handWords, moveWords, pendingWords } from "./wording.ts";

const rounded = (value: number) => Math.round(value * 1000) / 1000;

/** Each follows its own amount only: the others stand still while one is dragged. */
const Slider = memo(function Slider({ adjuster }: { adjuster: NoteAdjuster }) {
  const amount = useComputed(() => moves.value[adjuster.code] ?? 0).value;
  const id = `note-slider-${adjuster.code}`;
  const fine = adjuster.unit === "%" ? 1 : 0.01;
  const set = (value: number) => setMove(adjuster.code, rounded(Math.max(-adjuster.most, Math.min(adjuster.most, value))));
  const name = tAdjuster(adjuster.code);
  const hand = handWords(adjuster, amount);
  return (
    <div class="note-slider">
      <div class="note-slider-head">
        <label for={id}>{name}</label>
        <output for={id}>
          {moveWords(adjuster, amount)}
          {hand && <span class="note-hand">{hand}</span>}
        </output>
      </div>
      <div class="note-slider-row">
        <button type="button" class="stepper-button" aria-label={t("note.less", { name })} disabled={amount <= -adjuster.most} onClick={() => set(amount - adjuster.step)}>
          −
        </button>
        <input
          id={id}
          type="range"
          min={-adjuster.most}
          max={adjuster.most}
          step={fine}
          value={amount}
          aria-valuetext={`${moveWords(adjuster, amount)}${hand ? `, ${hand}` : ""}`}
          onInput={(event) => set(event.currentTarget.valueAsNumber)}
        />
        <button type="button" class="stepper-button" aria-label={t("note.more", { name })} disabled={amount >= adjuster.most} onClick={() => set(amount + adjuster.step)}>
          +
        </button>
      </div>
      <p class="note-small">
        <SetsLine code={adjuster.sets} />
        {adjuster.pending !== null && <span class="note-pending">→ {t("note.plan_asks", { move: pendingWords(adjuster) })}</span>}
      </p>
    </div>
  );
});

const touched = computed(() => Object.keys(moves.value).length > 0);

export const Sliders = memo(function Sliders() {
  const now = facts.value;
  if (!now) return null;
  const asked = now.adjusters.filter((adjuster) => adjuster.pending !== null);
  return (
    <section aria-labelledby="note-settings">
      <h2 id="note-settings">{t("note.settings")}</h2>
      <div class="row note-all">
        <Button onPress={() => setMoves({})} disabled={!touched.value}>
          {t("note.reset")}
        </Button>
        {asked.length > 0 && (
          <Button onPress={() => setMoves(Object.fromEntries(asked.map((adjuster) => [adjuster.code, adjuster.pending!])))}>
            {t("note.try_plan")}
          </Button>
        )}
      </div>
      <div class="note-sliders">
        {now.adjusters.map((adjuster) => (
          <Slider key={adjuster.code} adjuster={adjuster} />
        ))}
      </div>
    </section>
  );
});
