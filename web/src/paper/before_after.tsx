// Before and after, note by note, in tolerances: small, readable in black and white.
import type { Block, StripMark } from "../api/paper_types.ts";

type StripBlock = Extract<Block, { kind: "strip" }>;
const per_key = 8; // units
const half = 22; // units from the middle to the edge
const most = 2.2; // tolerances at the edge
const gap = 8;

/** Where a stroke of `off` tolerances ends, in units from the middle down; held to the edge. */
export function strokeEnd(off: number): number {
  return -(Math.max(-most, Math.min(most, off)) * half) / most;
}

function Row({ strip, of, top, label }: { strip: StripBlock; of: (mark: StripMark) => number; top: number; label: string }) {
  const middle = top + half;
  const band = half / most;
  const width = (strip.highest - strip.lowest + 1) * per_key;
  return (
    <g>
      <rect x="0" y={middle - band} width={width} height={2 * band} class="paper-band" />
      <rect x="0" y={middle - band} width={width} height={2 * band} fill="url(#paper-hatch)" />
      <line x1="0" x2={width} y1={middle} y2={middle} class="paper-middle" />
      {strip.marks.map((mark) => {
        const x = (mark[0] - strip.lowest + 0.5) * per_key;
        const outside = Math.abs(of(mark)) > 1;
        return <line key={mark[0]} x1={x} x2={x} y1={middle} y2={middle + strokeEnd(of(mark))} class={outside ? "paper-beyond" : "paper-within"} />;
      })}
      <title>{label}</title>
    </g>
  );
}

export function BeforeAfter({ strip }: { strip: StripBlock }) {
  const width = (strip.highest - strip.lowest + 1) * per_key;
  return (
    <figure class="paper-figure">
      <figcaption>{strip.text}</figcaption>
      <div class="paper-rows">
        <span>{strip.before}</span>
        <span>{strip.after}</span>
        <svg viewBox={`0 0 ${width} ${4 * half + gap}`} role="img" aria-label={strip.text} preserveAspectRatio="none">
          <defs>
            <pattern id="paper-hatch" width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
              <line x1="0" y1="0" x2="0" y2="6" class="paper-hatch" />
            </pattern>
          </defs>
          <Row strip={strip} of={(mark) => mark[1]} top={0} label={strip.before} />
          <Row strip={strip} of={(mark) => mark[2]} top={2 * half + gap} label={strip.after} />
        </svg>
      </div>
    </figure>
  );
}
