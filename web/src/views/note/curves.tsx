// Force under a slow finger over depth, and strokes at three efforts over time.
import { scaleLinear } from "../../charts/scale.ts";
import { useRef } from "preact/hooks";
import type { Frame, NoteStroke, Strokes, WhatIf } from "../../api/note_types.ts";
import { depthOf, forceOf } from "../../drawing/frames.ts";
import { useWidth } from "../../drawing/width.ts";
import { showLength, showNumber, thin } from "../../quantities/show.ts";
import { unit } from "../../state/choices.ts";
import { t } from "../../words/index.ts";
import "./curves.css";

const margin = { left: 44, right: 10, top: 12, bottom: 30 };

function line(points: readonly (readonly [number, number])[]): string {
  return points.map(([x, y], i) => `${i === 0 ? "M" : "L"}${x.toFixed(1)} ${y.toFixed(1)}`).join("");
}
/** Columns of rows of three. */
function rows(flat: readonly (number | null)[]): [number, number, number][] {
  const out: [number, number, number][] = [];
  for (let i = 0; i + 2 < flat.length; i += 3)
    if (flat[i] != null && flat[i + 1] != null) out.push([flat[i]!, flat[i + 1]!, flat[i + 2] ?? NaN]);
  return out;
}

export function PressCurve({ note, frame }: { note: WhatIf; frame: Frame }) {
  const box = useRef<HTMLDivElement>(null);
  const width = useWidth(box, 360);
  const height = 220;
  const [down, up] = [rows(note.press.down), rows(note.press.up)];
  const deepest = Math.max(1, ...down.map(([depth]) => depth));
  const x = scaleLinear([0, deepest], [margin.left, width - margin.right]);
  // The bottom's 300 g would flatten what the finger feels on the way.
  const before = down.filter(([depth]) => depth < deepest - 0.6).map(([, force]) => force);
  const most = Math.max(80, ...before) * 1.25;
  const y = scaleLinear([0, most], [height - margin.bottom, margin.top]).clamp(true);
  const inch = unit.value === "in";
  const ticks = inch ? [0, 0.1, 0.2, 0.3, 0.4].filter((v) => v * 25.4 <= deepest) : x.ticks(6);
  const marks = [
    ["let-off", note.marks.let_off],
    ["drop", note.marks.drop],
  ] as const;
  return (
    <figure class="note-figure">
      <figcaption>{t("note.press")}</figcaption>
      <div ref={box}>
        <svg viewBox={`0 0 ${width} ${height}`} width={width} height={height} role="img" aria-label={t("note.press.label", { depth: showLength(depthOf(frame), 1), force: `${showNumber(forceOf(frame), 0)}${thin}gf` })}>
          {y.ticks(4).map((force) => (
            <g key={force} class="note-grid">
              <path d={`M${margin.left} ${y(force)}H${width - margin.right}`} />
              <text x={margin.left - 6} y={y(force) + 5} text-anchor="end">
                {showNumber(force, 0)}
              </text>
            </g>
          ))}
          {ticks.map((at) => (
            <text key={at} class="note-axis" x={x(inch ? at * 25.4 : at)} y={height - 10} text-anchor="middle">
              {showNumber(at, inch ? 1 : 0)}
            </text>
          ))}
          <text class="note-axis" x={margin.left + 4} y={margin.top + 4}>
            gf
          </text>
          <text class="note-axis" x={width - margin.right} y={height - margin.bottom - 6} text-anchor="end">
            {unit.value}
          </text>
          {marks.map(([code, depth]) =>
            depth === null ? null : <path key={code} class={`note-mark note-mark-${code}`} d={`M${x(depth)} ${margin.top}V${height - margin.bottom}`} />,
          )}
          <path class="note-up" d={line(up.map(([depth, force]) => [x(depth), y(force)] as const))} />
          <path class="note-down" d={line(down.map(([depth, force]) => [x(depth), y(force)] as const))} />
          <circle class="note-point" cx={x(Math.min(depthOf(frame), deepest))} cy={y(forceOf(frame))} r="7" />
        </svg>
      </div>
      <p class="note-legend">
        <Key kind="down" /> {t("note.press.down")} <Key kind="up" /> {t("note.press.up")} <Key kind="mark" /> {t("note.press.marks")}
      </p>
    </figure>
  );
}

function Key({ kind }: { kind: "down" | "up" | "mark" | "hammer" | "key" }) {
  const name = { down: "note-down", up: "note-up", mark: "note-mark note-mark-let-off", hammer: "note-down", key: "note-up" }[kind];
  return (
    <svg class="note-key" width="30" height="12" aria-hidden="true">
      <path class={name} d="M1 6H29" />
    </svg>
  );
}

const events = ["let_off", "string", "key_bottom", "check"] as const;
const letters = { let_off: "L", string: "S", key_bottom: "B", check: "C" } as const;

/** Letters of events that lie close beside each other, drawn apart in their order. */
function spread<T>(list: readonly (readonly [T, number])[]): { event: T; at: number; letter: number }[] {
  const apart = 16;
  const sorted = [...list].sort((a, b) => a[1] - b[1]).map(([event, at]) => ({ event, at, letter: at }));
  for (let turn = 0; turn < 8; ++turn)
    for (let i = 1; i < sorted.length; ++i) {
      const [a, b] = [sorted[i - 1]!, sorted[i]!];
      const close = apart - (b.letter - a.letter);
      if (close <= 0) continue;
      a.letter -= close / 2;
      b.letter += close / 2;
    }
  return sorted;
}

function Line({ stroke, until, deepest }: { stroke: NoteStroke; until: number; deepest: number }) {
  const box = useRef<HTMLDivElement>(null);
  const width = useWidth(box, 360);
  const height = 132;
  const points = rows(stroke.trace).filter(([time]) => time >= 0 && time <= until);
  const x = scaleLinear([0, until], [14, width - 10]);
  const y = scaleLinear([0, deepest], [32, height - 26]);
  const seen = events.filter((event) => stroke.events[event] !== null);
  return (
    <div ref={box}>
      <svg viewBox={`0 0 ${width} ${height}`} width={width} height={height} role="img" aria-label={t("note.stroke.label", { effort: t(`note.effort.${stroke.effort}`) })}>
        <path class="note-string" d={`M14 ${y(0)}H${width - 10}`} />
        {x.ticks(5).map((time) => (
          <g key={time} class="note-grid">
            <path d={`M${x(time)} ${height - 26}v5`} />
            <text x={x(time)} y={height - 6} text-anchor="middle">
              {showNumber(time, 0)}
            </text>
          </g>
        ))}
        {spread(seen.map((event) => [event, x(stroke.events[event]!)] as const)).map(({ event, at, letter }) => {
          return (
            <g key={event} class="note-event">
              <path d={`M${letter} 16L${at} 24V${height - 26}`} />
              <text x={letter} y={13} text-anchor="middle">
                {letters[event]}
              </text>
            </g>
          );
        })}
        <path class="note-up" d={line(points.map(([time, key]) => [x(time), y(key)] as const))} />
        <path class="note-down" d={line(points.filter(([, , below]) => Number.isFinite(below)).map(([time, , below]) => [x(time), y(below)] as const))} />
      </svg>
    </div>
  );
}

const ms = (value: number | null) => (value === null ? "–" : `${showNumber(value, 1)}${thin}ms`);

export function StrokeLines({ strokes }: { strokes: Strokes }) {
  const last = strokes.strokes.flatMap((stroke) => events.map((event) => stroke.events[event] ?? 0));
  const until = Math.max(60, ...last) + 15;
  const deepest = Math.max(20, ...strokes.strokes.flatMap((stroke) => rows(stroke.trace).map(([, , below]) => (Number.isFinite(below) ? below : 0))));
  return (
    <>
      {strokes.strokes.map((stroke) => (
        <div key={stroke.effort} class="note-stroke">
          <h3>
            {t(`note.effort.${stroke.effort}`)}: {stroke.hammer_speed_m_s === null ? "–" : `${showNumber(stroke.hammer_speed_m_s, 2)}${thin}m/s`}
          </h3>
          <Line stroke={stroke} until={until} deepest={deepest} />
          <dl class="note-events">
            {events.map((event) => (
              <div key={event}>
                <dt>
                  <span aria-hidden="true">{letters[event]} </span>
                  {t(`note.event.${event}`)}
                </dt>
                <dd>{ms(stroke.events[event])}</dd>
              </div>
            ))}
            <div>
              <dt>{t("note.event.flight")}</dt>
              <dd>{ms(stroke.free_flight_ms)}</dd>
            </div>
          </dl>
          {stroke.struck_twice && <p class="note-wrong">⚠ {t("note.twice")}</p>}
        </div>
      ))}
      <p class="note-legend">
        <Key kind="hammer" /> {t("note.stroke.hammer")} <Key kind="key" /> {t("note.stroke.key")}
      </p>
    </>
  );
}
