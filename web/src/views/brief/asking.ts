// The brief, asked register by register, so that the view fills in as answers come and can be
// stopped. What one register costs is about a second; what is known costs nothing.
import { signal } from "@preact/signals";
import { get } from "../../api/client.ts";
import type { BriefAnswer, Outline, RegisterBrief } from "../../api/brief_types.ts";
import type { Problem } from "../../api/types.ts";

export interface Asked {
  piano: string;
  outline: Outline;
  /** By note; what is there already. */
  registers: Record<string, RegisterBrief>;
  /** All together, with the change that serves every register; departures are accepted of this. */
  whole: BriefAnswer | null;
  state: "asking" | "stopped" | "done";
}

export const asked = signal<Asked | null>(null);
export const problem = signal<Problem | null>(null);
let running: AbortController | null = null;

export function stop(): void {
  running?.abort();
  if (asked.value?.state === "asking") asked.value = { ...asked.value, state: "stopped" };
}

/** A newer asking stops the one before; what has not begun is then never asked. */
export async function ask(piano: string): Promise<void> {
  running?.abort();
  const mine = (running = new AbortController());
  const base = `/api/pianos/${encodeURIComponent(piano)}/brief`;
  const outline = await get<Outline>(`${base}?outline=1`, mine.signal);
  if (mine.signal.aborted) return;
  if (!outline.ok) {
    problem.value = outline.problem;
    return;
  }
  problem.value = null;
  const before = asked.peek();
  // What was known stays on the screen until its successor comes.
  const kept = before?.piano === piano ? before : null;
  asked.value = { piano, outline: outline.value, registers: kept?.registers ?? {}, whole: null, state: "asking" };
  for (const where of outline.value.registers) {
    const one = await get<BriefAnswer>(`${base}?where=${encodeURIComponent(where.register)}`, mine.signal);
    if (mine.signal.aborted) return;
    if (!one.ok) {
      problem.value = one.problem;
      asked.value = { ...asked.value, state: "stopped" };
      return;
    }
    const register = one.value.registers[0];
    if (register) asked.value = { ...asked.value, registers: { ...asked.value.registers, [where.note]: register } };
  }
  const whole = await get<BriefAnswer>(base, mine.signal);
  if (mine.signal.aborted) return;
  if (!whole.ok) {
    problem.value = whole.problem;
    asked.value = { ...asked.value, state: "stopped" };
    return;
  }
  asked.value = {
    ...asked.value,
    registers: Object.fromEntries(whole.value.registers.map((r) => [r.note, r])),
    whole: whole.value,
    state: "done",
  };
}
