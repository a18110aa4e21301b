// GET …/notes/{n}, POST …/what-if and …/strokes, as json/note_json.cpp writes them.
// mm, gf, rad, ms; null where the model reads nothing.
import type { Problem } from "./types.ts";

export type Start = "believed" | "targets";

export interface NoteAdjuster {
  code: string;
  /** Of the slider. */
  unit: "mm" | "%";
  /** Either way, slider's unit. */
  most: number;
  /** What the smallest move of a hand does, slider's unit. */
  step: number;
  sets: string;
  move_unit: "turns" | "mm" | "steps";
  /** Slider's unit for one turn, millimetre or step. */
  per_move: number;
  pending: number | null;
  /** In turns, mm or steps. */
  pending_amount: number | null;
}
export interface NoteReading {
  code: string;
  unit: string;
  decimals: number;
  at_targets: number | null;
  at_believed: number | null;
  target: number | null;
  tolerance: number | null;
  believed: number | null;
  believed_sd: number | null;
  read: { value: number; sd: number; at: string; entry: string } | null;
}
export interface Fault {
  fault: string;
  happened: string;
  todo: string;
  may_break: boolean;
}
export interface NoteFacts {
  revision: number;
  note: string;
  key: number;
  sharp: boolean;
  profile: string;
  profile_chosen: boolean;
  start: Start;
  cannot: Problem | null;
  adjusters: NoteAdjuster[];
  readings: NoteReading[];
  faults_at_targets: Fault[];
  faults_at_believed: Fault[];
}

export interface NoteShape {
  kind: "polygon" | "disc" | "line";
  /** Index of a part in a frame; −1: the ground. */
  part: number;
  style: string;
  /** x, y, x, y … */
  points: number[];
  radius?: number;
}
export interface ShapeGroup {
  code: string;
  shapes: NoteShape[];
}
/** [depth, crown below the string, gf, then x, y, angle of every part] */
export type Frame = (number | null)[];

export interface WhatIf {
  revision: number;
  note: string;
  start: Start;
  moves: Record<string, number>;
  /** Whether the standard blow was played: without it check distance and spring rise are not known. */
  blow: boolean;
  readings: Record<string, number | null>;
  faults: Fault[];
  marks: { let_off: number | null; drop: number | null; bottom: number | null };
  string: number;
  fixed: ShapeGroup[];
  moving: ShapeGroup[];
  /** [part, x, y] */
  points: Record<string, number[]>;
  at: Frame;
  /** depth, gf, crown below the string; again and again */
  press: { columns: string[]; down: (number | null)[]; up: (number | null)[] };
  frames: Frame[];
}

export interface NoteStroke {
  effort: "soft" | "middling" | "loud";
  hammer_speed_m_s: number | null;
  key_speed_m_s: number | null;
  events: Record<"let_off" | "string" | "key_bottom" | "check" | "jack_return", number | null>;
  check_distance_mm: number | null;
  free_flight_ms: number | null;
  struck_twice: boolean;
  /** time, key depth, crown below the string; again and again */
  trace: (number | null)[];
}
export interface Strokes {
  revision: number;
  note: string;
  start: Start;
  moves: Record<string, number>;
  touch: "pressed" | "struck";
  /** Of a stroke's trace. */
  columns: string[];
  strokes: NoteStroke[];
}
