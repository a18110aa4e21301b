// A share of notes over the coming months: expected line, hatched band, limit, the day it is passed.
import { area, line } from "d3-shape";
import { useRef } from "preact/hooks";
import type { DriftPoint } from "../api/drift_types.ts";
import { useWidth } from "../drawing/width.ts";
import { addDays, dayOf } from "../quantities/days.ts";
import { showShare } from "../quantities/show.ts";
import { datesAs } from "../state/choices.ts";
import { scaleLinear } from "./scale.ts";
import "./share_chart.css";

interface Props {
  label: string;
  today: string;
  points: readonly DriftPoint[];
  limit: number;
  limitText: string;
  /** Days from today on which the expected share passes the limit; null: it does not. */
  due: number | null;
  dueText: string;
  /** Days from today that are looked at. */
  at: number;
}
const margin = { left: 52, right: 14, top: 30, bottom: 46 };
const least_top = 0.3; // so that a few per cent do not look like a cliff

/** First days of a month every `step` months from the first one after `from`, as days from `today`. */
export function monthMarks(today: string, from: number, to: number, most: number): { day: number; month: Date }[] {
  const begin = dayOf(today);
  const first = addDays(begin, from);
  const months = (to - from) / 30.44;
  const step = [1, 2, 3, 6, 12].find((one) => months / one <= most) ?? 24;
  const list: { day: number; month: Date }[] = [];
  for (let month = first.getMonth() + 1; ; ++month) {
    const mark = new Date(first.getFullYear(), month, 1, 12);
    const day = Math.round((mark.getTime() - begin.getTime()) / 86_400_000);
    if (day > to) return list;
    if (mark.getMonth() % step === 0) list.push({ day, month: mark });
  }
}

export function ShareChart({ label, today, points, limit, limitText, due, dueText, at }: Props) {
  const box = useRef<HTMLDivElement>(null);
  const width = useWidth(box, 640);
  const height = width < 500 ? 250 : 300;
  const last = Math.max(1, ...points.map((one) => one.day));
  const highest = Math.max(
    least_top,
    1.15 * limit,
    ...points.map((one) => one.high),
  );
  const foot = height - margin.bottom;
  const x = scaleLinear([0, last], [margin.left, width - margin.right]);
  const y = scaleLinear([0, Math.min(1, highest)], [foot, margin.top]).clamp(true);
  const band = area<DriftPoint>()
    .x((p) => x(p.day))
    .y0((p) => y(p.low))
    .y1((p) => y(p.high))([...points]);
  const expected = line<DriftPoint>()
    .x((p) => x(p.day))
    .y((p) => y(p.share))([...points]);
  const here = valueAt(points, at);
  const year = new Intl.DateTimeFormat(datesAs.value, { year: "numeric" });
  const short = new Intl.DateTimeFormat(datesAs.value, { month: "short" });
  const marks = monthMarks(today, 0, last, width < 500 ? 5 : 9);
  // Where the line is farther from it.
  const limitLeft = Math.abs((points[0]?.share ?? 0) - limit) > Math.abs((points.at(-1)?.share ?? 0) - limit);
  const dueLeft = due !== null && x(due) > width - 150;
  return (
    <div class="share-chart" ref={box}>
      <svg viewBox={`0 0 ${width} ${height}`} width={width} height={height} role="img" aria-label={label}>
        <defs>
          <pattern id="share-hatch" width="7" height="7" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
            <line class="share-hatch" x1="0" y1="0" x2="0" y2="7" />
          </pattern>
        </defs>
        {y.ticks(4).map((tick) => (
          <g key={tick}>
            <path class="share-grid" d={`M${margin.left} ${y(tick)}H${width - margin.right}`} />
            <text class="share-text" x={margin.left - 8} y={y(tick) + 5} text-anchor="end">
              {showShare(tick)}
            </text>
          </g>
        ))}
        {marks.map(({ day, month }, i) => (
          <g key={day}>
            <path class="share-tick" d={`M${x(day)} ${foot}v6`} />
            <text class="share-text" x={x(day)} y={foot + 21} text-anchor="middle">
              {short.format(month)}
            </text>
            {(i === 0 || month.getMonth() === 0 || marks[i - 1]!.month.getFullYear() !== month.getFullYear()) && (
              <text class="share-text" x={x(day)} y={foot + 38} text-anchor="middle">
                {year.format(month)}
              </text>
            )}
          </g>
        ))}
        <path class="share-band" d={band ?? ""} />
        <path class="share-band-hatch" fill="url(#share-hatch)" d={band ?? ""} />
        <path class="share-limit" d={`M${margin.left} ${y(limit)}H${width - margin.right}`} />
        <text
          class="share-text share-limit-text"
          x={limitLeft ? margin.left + 4 : width - margin.right - 2}
          y={y(limit) - 7}
          text-anchor={limitLeft ? "start" : "end"}
        >
          {limitText}
        </text>
        <path class="share-expected" d={expected ?? ""} />
        {due !== null && (
          <g class="share-due">
            <path d={`M${x(due)} ${margin.top - 6}V${foot}`} />
            <path class="share-flag" d={`M${x(due) - 7} ${margin.top - 8}h14l-7 11z`} />
            <text x={x(due) + (dueLeft ? -12 : 12)} y={margin.top - 10} text-anchor={dueLeft ? "end" : "start"}>
              {dueText}
            </text>
          </g>
        )}
        {here !== null && <circle class="share-here" cx={x(at)} cy={y(here.share)} r="8" />}
      </svg>
    </div>
  );
}

/** Between the points around that day; null outside them. */
export function valueAt(points: readonly DriftPoint[], day: number): Omit<DriftPoint, "at"> | null {
  const after = points.findIndex((one) => one.day >= day);
  const b = points[after];
  if (!b) return null;
  const a = after === 0 || b.day === day ? b : points[after - 1]!;
  const part = b.day === a.day ? 0 : (day - a.day) / (b.day - a.day);
  const between = (from: number, to: number) => from + part * (to - from);
  if (day < a.day) return null;
  return {
    day,
    share: between(a.share, b.share),
    low: between(a.low, b.low),
    high: between(a.high, b.high),
    chance_over_limit: between(a.chance_over_limit, b.chance_over_limit),
  };
}
