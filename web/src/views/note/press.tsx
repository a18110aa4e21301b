// The key's depth, by slider, by marks, or played as a slow press.
import { useEffect, useState } from "preact/hooks";
import { Button } from "../../controls/index.ts";
import { belowOf, forceOf } from "../../drawing/frames.ts";
import { showLength, showNumber, thin } from "../../quantities/show.ts";
import { t } from "../../words/index.ts";
import { answer, bottom, depth, frame } from "./asking.ts";
import { nextStop, type Stop } from "./stops.ts";

const seconds = 5; // a press as slow as a technician's

const still = () => typeof matchMedia !== "undefined" && matchMedia("(prefers-reduced-motion: reduce)").matches;

function stops(): Stop[] {
  const marks = answer.value?.marks;
  const list: Stop[] = [["rest", 0]];
  if (marks?.let_off != null) list.push(["let-off", marks.let_off]);
  if (marks?.drop != null) list.push(["drop", marks.drop]);
  if (marks?.bottom != null) list.push(["bottom", marks.bottom]);
  return list;
}

export function Press() {
  const [playing, setPlaying] = useState(false);
  const steps = still();
  useEffect(() => {
    if (!playing) return;
    let last: number | null = null;
    let asked = requestAnimationFrame(function move(now) {
      const on = last === null ? 0 : ((now - last) / 1000 / seconds) * bottom.peek();
      last = now;
      depth.value = Math.min(bottom.peek(), depth.peek() + on);
      if (depth.peek() >= bottom.peek()) setPlaying(false);
      else asked = requestAnimationFrame(move);
    });
    return () => cancelAnimationFrame(asked);
  }, [playing]);
  const list = stops();
  const at = frame.value;
  const play = () => {
    if (steps) {
      depth.value = nextStop(list, depth.peek());
      return;
    }
    if (!playing && depth.peek() >= bottom.peek() - 0.02) depth.value = 0;
    setPlaying(!playing);
  };
  const set = (to: number) => {
    setPlaying(false);
    depth.value = to;
  };
  const reach = bottom.value;
  const words = showLength(depth.value, 2);
  return (
    <div class="note-press">
      <div class="note-slider-head">
        <label for="note-depth">{t("note.depth")}</label>
        <output for="note-depth">
          {words}
          {at && (
            <span class="note-hand">
              {t("note.depth.tells", { below: showLength(belowOf(at), 1), force: `${showNumber(forceOf(at), 0)}${thin}gf` })}
            </span>
          )}
        </output>
      </div>
      <div class="note-depth">
        <input
          id="note-depth"
          type="range"
          min={0}
          max={Math.round(reach * 100) / 100}
          step={0.02}
          value={depth.value}
          aria-valuetext={words}
          onInput={(event) => set(event.currentTarget.valueAsNumber)}
        />
        <div class="note-ticks" aria-hidden="true">
          {list.slice(1).map(([name, where]) => (
            <span key={name} style={{ left: `${(100 * where) / reach}%` }} />
          ))}
        </div>
      </div>
      <div class="row note-stops">
        <Button kind="main" onPress={play}>
          {steps ? t("note.step") : playing ? t("note.pause") : t("note.play")}
        </Button>
        {list.map(([name, where]) => (
          <Button key={name} onPress={() => set(where)} pressed={Math.abs(depth.value - where) < 0.011}>
            {t(`note.stop.${name}`)}
          </Button>
        ))}
      </div>
    </div>
  );
}
