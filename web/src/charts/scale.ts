// A straight scale from one span to another, with round numbers to mark it by. The part of d3-scale this
// front end needs, without the colours, times and formats that come with it.
export interface Scale {
  (value: number): number;
  invert: (at: number) => number;
  /** Whether what lies outside the domain is drawn at its end. */
  clamp: (on: boolean) => Scale;
  /** About `count` round numbers (1, 2 or 5 times a power of ten apart) within the domain, rising. */
  ticks: (count?: number) => number[];
}

export function scaleLinear(
  domain: readonly [number, number],
  range: readonly [number, number],
  clamped = false,
): Scale {
  const [d0, d1] = domain;
  const [r0, r1] = range;
  const scale = (value: number): number => {
    // A domain of no width is drawn in the middle.
    const part = d1 === d0 ? 0.5 : (value - d0) / (d1 - d0);
    return r0 + (clamped ? Math.min(1, Math.max(0, part)) : part) * (r1 - r0);
  };
  const invert = (at: number): number => (r1 === r0 ? d0 : d0 + ((at - r0) / (r1 - r0)) * (d1 - d0));
  const clamp = (on: boolean): Scale => scaleLinear(domain, range, on);
  const ticks = (count = 10): number[] => {
    const [low, high] = d0 < d1 ? [d0, d1] : [d1, d0];
    if (!(high > low) || count < 1) return [];
    const rough = (high - low) / count;
    const power = Math.floor(Math.log10(rough));
    const over = rough / 10 ** power;
    // Geometric means of 1, 2, 5 and 10: the nearest of them by ratio.
    const times = over >= Math.sqrt(50) ? 10 : over >= Math.sqrt(10) ? 5 : over >= Math.sqrt(2) ? 2 : 1;
    const step = times * 10 ** power;
    // Below one it is the reciprocal of a whole number, which divides exactly.
    const parts = Math.round(1 / step);
    const value = (i: number) => (step < 1 ? i / parts : i * step);
    const list: number[] = [];
    for (let i = Math.ceil(low / step - 1e-9); value(i) <= high + step * 1e-9; i++) list.push(value(i));
    return list;
  };
  return Object.assign(scale, { invert, clamp, ticks });
}
