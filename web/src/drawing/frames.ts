// Where the parts of a note stand: rows of a slow press, and what lies between two of them.
import type { Frame } from "../api/note_types.ts";

const first = 3; // of the parts' numbers, behind depth, crown and force

/** The frame at a depth (mm), every number in proportion between two; beyond an end that end's. */
export function frameAt(frames: readonly Frame[], depth: number): Frame | null {
  if (frames.length === 0) return null;
  let after = frames.findIndex((frame) => (frame[0] ?? 0) > depth);
  if (after === 0) return frames[0]!;
  if (after < 0) return frames[frames.length - 1]!;
  const [a, b] = [frames[after - 1]!, frames[after]!];
  const [from, to] = [a[0] ?? 0, b[0] ?? 0];
  const share = to > from ? (depth - from) / (to - from) : 0;
  return a.map((value, i) => (value === null || b[i] == null ? value : value + share * (b[i]! - value)));
}

/** Place (mm) of a point of a part that lies at x, y in the layout; part −1 is the ground. */
export function place(frame: Frame, [part, x, y]: readonly [number, number, number]): { x: number; y: number } {
  if (part < 0) return { x, y };
  const at = first + 3 * part;
  const [dx, dy, angle] = [frame[at] ?? 0, frame[at + 1] ?? 0, frame[at + 2] ?? 0];
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  return { x: dx + c * x - s * y, y: dy + s * x + c * y };
}

/** The same as an SVG transform, y upward as in the model. */
export function transformOf(frame: Frame, part: number): string | undefined {
  if (part < 0) return undefined;
  const at = first + 3 * part;
  const [dx, dy, angle] = [frame[at] ?? 0, frame[at + 1] ?? 0, frame[at + 2] ?? 0];
  const [c, s] = [Math.cos(angle).toFixed(6), Math.sin(angle).toFixed(6)];
  return `matrix(${c} ${s} ${-s} ${c} ${dx.toFixed(3)} ${dy.toFixed(3)})`;
}

export const depthOf = (frame: Frame): number => frame[0] ?? 0;
export const belowOf = (frame: Frame): number => frame[1] ?? 0;
export const forceOf = (frame: Frame): number => frame[2] ?? 0;
