// The turn of a screw as it is drawn: angles clockwise from twelve o'clock, seen from the hand.
import type { Hand } from "../api/plan_types.ts";

export interface Arc {
  /** SVG path along the rim; empty where there is nothing to turn. */
  path: string;
  /** The arrow's three corners. */
  arrow: string;
  /** Degrees the slot ends at, from where it began; + clockwise. */
  degrees: number;
  /** Whole turns before the part that is drawn. */
  whole: number;
}

function at(centre: number, radius: number, degrees: number): [number, number] {
  const angle = ((degrees - 90) * Math.PI) / 180;
  return [centre + radius * Math.cos(angle), centre + radius * Math.sin(angle)];
}
const said = (xy: [number, number]) => `${xy[0].toFixed(2)} ${xy[1].toFixed(2)}`;

/**
 * An arc of `turns` (the sign is left aside) the way the hand goes, around (centre, centre). A full
 * turn and more is drawn as nearly a ring; `whole` says how many go before.
 */
export function turnArc(turns: number, hand: Hand, centre: number, radius: number): Arc {
  const size = Math.abs(turns);
  const sense = hand === "clockwise" ? 1 : -1;
  const whole = Math.floor(size + 1e-9);
  const part = size - whole < 1e-6 ? 0 : size - whole;
  const degrees = sense * part * 360;
  const sweep = whole > 0 ? sense * 330 : degrees;
  if (sweep === 0) return { path: "", arrow: "", degrees, whole };
  const [from, to] = [at(centre, radius, 0), at(centre, radius, sweep)];
  const large = Math.abs(sweep) > 180 ? 1 : 0;
  const path = `M${said(from)}A${radius} ${radius} 0 ${large} ${sense > 0 ? 1 : 0} ${said(to)}`;
  // The tip lies ahead of the arc's end, its base across the rim.
  const tip = at(centre, radius, sweep + sense * 9);
  const arrow = `M${said(at(centre, radius - 9, sweep))}L${said(at(centre, radius + 9, sweep))}L${said(tip)}Z`;
  return { path, arrow, degrees, whole };
}
