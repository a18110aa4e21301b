// One note from the side, as the model has it: the whole of it, or a part of it enlarged.
import type { ComponentChildren } from "preact";
import { memo } from "preact/compat";
import { useId, useMemo, useRef } from "preact/hooks";
import type { Frame, NoteShape, ShapeGroup, WhatIf } from "../api/note_types.ts";
import { transformOf } from "./frames.ts";
import { useWidth } from "./width.ts";
import "./side_view.css";

/** What is drawn, mm in the model's plane: x to the rear, y up. */
export interface Cut {
  left: number;
  right: number;
  low: number;
  high: number;
}
/** From the model's plane to the drawing's pixels. */
export interface View {
  scale: number;
  width: number;
  height: number;
  x: (mm: number) => number;
  y: (mm: number) => number;
}

const shank = 7; // place of the part in a frame: the knuckle's leather sits on it

/** What a shape is made of; the knuckle's covering is leather though it is cushioned as felt is. */
function material(shape: NoteShape): string {
  if (shape.style === "felt" && shape.kind === "disc" && shape.part === shank) return "leather";
  return shape.style.split(" ")[0] ?? "ink";
}

function pathOf(shape: NoteShape): string {
  const parts: string[] = [];
  for (let i = 0; i + 1 < shape.points.length; i += 2) parts.push(`${shape.points[i]} ${shape.points[i + 1]}`);
  return `M${parts.join("L")}${shape.kind === "polygon" ? "Z" : ""}`;
}

function Outline({ shape }: { shape: NoteShape }) {
  const kind = material(shape);
  if (shape.kind === "disc")
    return <circle class={`side-${kind}`} cx={shape.points[0]} cy={shape.points[1]} r={shape.radius} />;
  return <path class={`side-${kind}`} d={pathOf(shape)} />;
}
/** The outlines of a part do not change while it moves. */
const Outlines = memo(function Outlines({ shapes }: { shapes: NoteShape[] }) {
  return (
    <>
      {shapes.map((shape, i) => (
        <Outline key={i} shape={shape} />
      ))}
    </>
  );
});

/** Neighbouring shapes on one part move together. */
function runs(groups: readonly ShapeGroup[], wanted?: ReadonlySet<string>): { part: number; shapes: NoteShape[] }[] {
  const out: { part: number; shapes: NoteShape[] }[] = [];
  for (const group of groups) {
    if (wanted && !wanted.has(group.code)) continue;
    for (const shape of group.shapes) {
      const last = out[out.length - 1];
      if (last?.part === shape.part) last.shapes.push(shape);
      else out.push({ part: shape.part, shapes: [shape] });
    }
  }
  return out;
}

/** Wood, felt, leather and steel told apart by hatch as well as by tone; once a page. */
export function Materials() {
  return (
    <svg class="side-materials" width="0" height="0" aria-hidden="true">
      <defs>
        <pattern id="side-hatch-birch" width="3.2" height="3.2" patternUnits="userSpaceOnUse">
          <rect class="side-fill-birch" width="3.2" height="3.2" />
          <path class="side-hatch" d="M0 0.8H3.2M0 2.4H3.2" />
        </pattern>
        <pattern id="side-hatch-beech" width="2.4" height="2.4" patternUnits="userSpaceOnUse" patternTransform="rotate(60)">
          <rect class="side-fill-beech" width="2.4" height="2.4" />
          <path class="side-hatch" d="M0 1.2H2.4" />
        </pattern>
        <pattern id="side-hatch-felt" width="1.6" height="1.6" patternUnits="userSpaceOnUse" patternTransform="rotate(30)">
          <rect class="side-fill-felt" width="1.6" height="1.6" />
          <circle class="side-dot" cx="0.8" cy="0.8" r="0.22" />
        </pattern>
        <pattern id="side-hatch-leather" width="1.2" height="1.2" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
          <rect class="side-fill-leather" width="1.2" height="1.2" />
          <path class="side-hatch" d="M0 0.6H1.2M0.6 0V1.2" />
        </pattern>
      </defs>
    </svg>
  );
}

interface Props {
  note: WhatIf;
  frame: Frame;
  cut: Cut;
  /** px; as high as the cut's shape wants without it. */
  most?: number | undefined;
  /** Groups drawn; all without it. */
  only?: ReadonlySet<string> | undefined;
  /** Said to those who do not see it. */
  label: string;
  children?: ((view: View) => ComponentChildren) | undefined;
  class?: string | undefined;
}

export function SideView({ note, frame, cut, most, only, label, children, class: more }: Props) {
  const box = useRef<HTMLDivElement>(null);
  const clip = useId();
  const width = useWidth(box, 360);
  const [across, up] = [cut.right - cut.left, cut.high - cut.low];
  const scale = Math.min(width / across, (most ?? Infinity) / up);
  const height = Math.round(scale * up);
  const left = (width - scale * across) / 2 - scale * cut.left;
  const top = scale * cut.high;
  const view: View = { scale, width, height, x: (mm) => left + scale * mm, y: (mm) => top - scale * mm };
  const fixed = useMemo(() => runs(note.fixed, only), [note, only]);
  const moving = useMemo(() => runs(note.moving, only), [note, only]);
  return (
    <div class={`side-view ${more ?? ""}`} ref={box}>
      <svg viewBox={`0 0 ${width} ${height}`} width={width} height={height} role="img" aria-label={label}>
        <clipPath id={clip}>
          <rect width={width} height={height} />
        </clipPath>
        <g clip-path={`url(#${clip})`}>
          <g transform={`translate(${left.toFixed(2)} ${top.toFixed(2)}) scale(${scale.toFixed(5)} ${(-scale).toFixed(5)})`}>
            <Outlines shapes={fixed.flatMap((run) => run.shapes)} />
            {moving.map((run, i) => (
              <g key={i} transform={transformOf(frame, run.part)}>
                <Outlines shapes={run.shapes} />
              </g>
            ))}
          </g>
          {children?.(view)}
        </g>
      </svg>
    </div>
  );
}

/** An upright measure between two heights (px), its words beside it; arrows from outside where it is short. */
export function Measure({ x, from, to, words, side = 1, kind = "hammer" }: { x: number; from: number; to: number; words: string; side?: 1 | -1; kind?: string }) {
  const short = Math.abs(to - from) < 16;
  const up = to < from ? 1 : -1;
  const head = (y: number, way: number) => `M${x - 4} ${y + way * 7}L${x} ${y}L${x + 4} ${y + way * 7}`;
  const path = short
    ? `M${x} ${from + up * 16}V${from}${head(from, up)}M${x} ${to - up * 16}V${to}${head(to, -up)}`
    : `M${x} ${from}V${to}${head(from, -up)}${head(to, up)}`;
  return (
    <g class={`side-measure side-measure-${kind}`}>
      <path d={path} />
      <text x={x + side * 8} y={(from + to) / 2 + 5} text-anchor={side > 0 ? "start" : "end"}>
        {words}
      </text>
    </g>
  );
}

/** A level line across, with a name at one end. */
export function Level({ y, from, to, words, kind, anchor = "start", above = true }: { y: number; from: number; to: number; words?: string | undefined; kind: string; anchor?: "start" | "end"; above?: boolean }) {
  return (
    <g class={`side-level side-level-${kind}`}>
      <path d={`M${from} ${y}H${to}`} />
      {words && (
        <text x={anchor === "start" ? from + 4 : to - 4} y={above ? y - 5 : y + 16} text-anchor={anchor}>
          {words}
        </text>
      )}
    </g>
  );
}
