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

function Outline({ shape, hatch }: { shape: NoteShape; hatch: string }) {
  const kind = material(shape);
  const fill = kind in tiles ? { fill: `url(#${hatch}-${kind})` } : {};
  if (shape.kind === "disc")
    return <circle class={`side-${kind}`} cx={shape.points[0]} cy={shape.points[1]} r={shape.radius} {...fill} />;
  return <path class={`side-${kind}`} d={pathOf(shape)} {...fill} />;
}
/** The outlines of a part do not change while it moves. */
const Outlines = memo(function Outlines({ shapes, hatch }: { shapes: NoteShape[]; hatch: string }) {
  return (
    <>
      {shapes.map((shape, i) => (
        <Outline key={i} shape={shape} hatch={hatch} />
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

const hatched = ["birch", "beech", "felt", "leather"] as const;
/** Side of a hatch's tile and its turn; px and degrees. */
const tiles = { birch: [6, 0], beech: [5, 62], felt: [5, 30], leather: [5, 45] } as const;

/** Wood, felt, leather and steel told apart by hatch as well as by tone; equally fine at every scale. */
export function Materials({ name, scale }: { name: string; scale: number }) {
  return (
    <defs>
      {hatched.map((kind) => {
        const [side, turn] = tiles[kind];
        return (
          <pattern
            key={kind}
            id={`${name}-${kind}`}
            width={side}
            height={side}
            patternUnits="userSpaceOnUse"
            patternTransform={`scale(${(1 / scale).toFixed(5)}) rotate(${turn})`}
          >
            <rect class={`side-fill-${kind}`} width={side} height={side} />
            {kind === "felt" ? (
              <circle class="side-speck" cx={side / 2} cy={side / 2} r="0.8" />
            ) : (
              <path class="side-hatch" d={`M0 ${side / 2}H${side}${kind === "leather" ? `M${side / 2} 0V${side}` : ""}`} />
            )}
          </pattern>
        );
      })}
    </defs>
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
  const name = `side${useId()}`;
  const width = useWidth(box, 360);
  const [across, up] = [cut.right - cut.left, cut.high - cut.low];
  const scale = Math.min(width / across, (most ?? Infinity) / up);
  const height = Math.round(scale * up);
  const left = (width - scale * across) / 2 - scale * cut.left;
  const top = scale * cut.high;
  const view: View = { scale, width, height, x: (mm) => left + scale * mm, y: (mm) => top - scale * mm };
  const fixed = useMemo(() => runs(note.fixed, only).flatMap((run) => run.shapes), [note, only]);
  const moving = useMemo(() => runs(note.moving, only), [note, only]);
  return (
    <div class={`side-view ${more ?? ""}`} ref={box}>
      <svg viewBox={`0 0 ${width} ${height}`} width={width} height={height} role="img" aria-label={label}>
        <Materials name={name} scale={scale} />
        <clipPath id={name}>
          <rect width={width} height={height} />
        </clipPath>
        <g clip-path={`url(#${name})`}>
          <g transform={`translate(${left.toFixed(2)} ${top.toFixed(2)}) scale(${scale.toFixed(5)} ${(-scale).toFixed(5)})`}>
            <Outlines shapes={fixed} hatch={name} />
            {moving.map((run, i) => (
              <g key={i} transform={transformOf(frame, run.part)}>
                <Outlines shapes={run.shapes} hatch={name} />
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
