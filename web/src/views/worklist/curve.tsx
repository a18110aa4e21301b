// How long there is: a slider under the curve of what evenness the minutes buy.
import { line } from "d3-shape";
import { scaleLinear } from "../../charts/scale.ts";
import { useEffect, useState } from "preact/hooks";
import { get } from "../../api/client.ts";
import type { Plan, TimeCurve } from "../../api/plan_types.ts";
import { Button } from "../../controls/index.ts";
import { showMinutes, showNumber } from "../../quantities/show.ts";
import { pianoId, planMinutes, steadyRevision } from "../../state/piano.ts";
import { plural, t } from "../../words/index.ts";
import { passName } from "../hands/wording.ts";
import { pointAt } from "./words.ts";

const width = 600;
const height = 150;
const pad = { left: 44, right: 12, top: 12, bottom: 26 };

export function TimeBox({ plan }: { plan: Plan }) {
  const [curve, setCurve] = useState<TimeCurve | null>(null);
  // While the finger is down; the plan itself is asked for when it lets go.
  const [drawn, setDrawn] = useState<number | null>(null);
  const revision = steadyRevision.value;
  useEffect(() => {
    const piano = pianoId.peek();
    if (!piano) return;
    const stop = new AbortController();
    void get<TimeCurve>(`/api/pianos/${encodeURIComponent(piano)}/time`, stop.signal).then((answer) => {
      if (answer.ok) setCurve(answer.value);
    });
    return () => stop.abort();
  }, [revision, pianoId.value]);
  if (!curve || curve.points.length < 2) return null;
  const all = Math.ceil(curve.minutes_of_all);
  const minutes = drawn ?? Math.min(all, planMinutes.value ?? all);
  const whole = minutes >= all;
  const here = pointAt(curve, minutes);
  // The plan for these minutes is there: it says so more exactly than the curve.
  const made = drawn === null && planMinutes.value !== null && Math.abs((plan.minutes_there_are ?? Infinity) - planMinutes.value) < 0.01;
  const missing = leftOut(curve, made ? plan.passes.map((pass) => pass.adjuster) : here.passes);
  const now = showNumber(curve.unevenness, 2);
  const after = showNumber(made ? plan.unevenness_after : here.unevenness, 2);
  const says = whole
    ? t("worklist.time.all.says", { minutes: showMinutes(all), after, now })
    : minutes === 0
      ? t("worklist.time.none", { now })
      : t("worklist.time.says", { minutes: showMinutes(minutes), after, now });
  const wanted = (value: number) => (value >= all ? null : Math.max(1, value));
  const settle = (value: number) => {
    setDrawn(null);
    planMinutes.value = wanted(value);
  };
  // A key may settle it before it says that it moves.
  const move = (value: number) => setDrawn(wanted(value) === planMinutes.peek() ? null : value);
  return (
    <section class="worklist-time card">
      <h2 id="worklist-time">{t("worklist.time")}</h2>
      <p class="quiet">{t("worklist.time.axis")}</p>
      <Curve curve={curve} minutes={minutes} value={here.unevenness} />
      <input
        class="worklist-slider"
        type="range"
        min={0}
        max={all}
        step={5}
        value={minutes}
        aria-label={t("worklist.time.slider")}
        aria-valuetext={whole ? t("worklist.time.all") : showMinutes(minutes)}
        onInput={(event) => move(sliderValue(event.currentTarget, all))}
        onChange={(event) => settle(sliderValue(event.currentTarget, all))}
      />
      <p role="status">{says}</p>
      {missing.length > 0 && <p>{t("worklist.time.left_out", { passes: missing.map(passName).join(", ") })}</p>}
      {made && plan.left_for_time.length > 0 && <p>{plural("worklist.time.left", plan.left_for_time.length)}</p>}
      {planMinutes.value !== null && (
        <Button onPress={() => (planMinutes.value = null)}>{t("worklist.time.reset")}</Button>
      )}
    </section>
  );
}

/** The last step before the end of the slider is all of it. */
function sliderValue(input: HTMLInputElement, all: number): number {
  const value = Number(input.value);
  return value + 5 > all ? all : value;
}

function leftOut(curve: TimeCurve, kept: readonly string[]): string[] {
  const whole = curve.points[curve.points.length - 1]?.passes ?? [];
  return whole.filter((one) => !kept.includes(one));
}

/** Whole hours, or parts of one where there are few: minutes. */
function timesUpTo(minutes: number): number[] {
  const step = [10, 15, 30, 60, 120, 240].find((one) => minutes / one <= 5) ?? 480;
  return Array.from({ length: Math.floor(minutes / step) + 1 }, (_, i) => i * step);
}

function Curve({ curve, minutes, value }: { curve: TimeCurve; minutes: number; value: number }) {
  const x = scaleLinear([0, curve.minutes_of_all], [pad.left, width - pad.right]);
  const highest = Math.max(curve.unevenness, 1, ...curve.points.map((p) => p.unevenness));
  const y = scaleLinear([0, highest], [height - pad.bottom, pad.top]);
  const path = line<{ minutes: number; unevenness: number }>()
    .x((p) => x(p.minutes))
    .y((p) => y(p.unevenness))([...curve.points]);
  const [atX, atY] = [x(minutes), y(value)];
  return (
    <svg class="worklist-curve" viewBox={`0 0 ${width} ${height}`} role="img" aria-label={t("worklist.time.axis")}>
      {y.ticks(4).map((tick) => (
        <g key={tick}>
          <path class="worklist-grid" d={`M${pad.left} ${y(tick)}H${width - pad.right}`} />
          <text class="worklist-tick worklist-tick-y" x={pad.left - 8} y={y(tick) + 5}>
            {showNumber(tick, 1)}
          </text>
        </g>
      ))}
      <path class="worklist-inside" d={`M${pad.left} ${y(1)}H${width - pad.right}`} />
      {timesUpTo(curve.minutes_of_all).map((tick) => (
        <text key={tick} class="worklist-tick" x={x(tick)} y={height - 6}>
          {tick === 0 ? tick : showMinutes(tick)}
        </text>
      ))}
      <path class="worklist-line" d={path ?? ""} />
      <path class="worklist-here-line" d={`M${atX} ${height - pad.bottom}V${atY}`} />
      <circle class="worklist-here" cx={atX} cy={atY} r="8" />
    </svg>
  );
}
