// Before and after, note by note, in tolerances: small, readable in black and white.
import type { HandoverReading } from "../../api/handover_types.ts";
import { keyOfNote } from "../../quantities/notes.ts";
import { t } from "../../words/index.ts";
import { comparedNotes, heading } from "./telling.ts";

const width = 704; // eight units a key
const half = 22; // units from the middle to the edge
const most = 2.2; // tolerances at the edge
const gap = 8;

interface Mark {
  key: number;
  off: number; // tolerances
}

function Row({ marks, top, label }: { marks: readonly Mark[]; top: number; label: string }) {
  const middle = top + half;
  const band = half / most;
  return (
    <g>
      <rect x="0" y={middle - band} width={width} height={2 * band} class="handover-band" />
      <rect x="0" y={middle - band} width={width} height={2 * band} fill="url(#handover-hatch)" />
      <line x1="0" x2={width} y1={middle} y2={middle} class="handover-middle" />
      {marks.map((mark) => {
        const outside = Math.abs(mark.off) > 1;
        const y = middle - (Math.max(-most, Math.min(most, mark.off)) * half) / most;
        const x = (mark.key - 0.5) * 8;
        return <line key={mark.key} x1={x} x2={x} y1={middle} y2={y} class={outside ? "handover-out" : "handover-in"} />;
      })}
      <title>{label}</title>
    </g>
  );
}

export function BeforeAfter({ reading }: { reading: HandoverReading }) {
  const notes = comparedNotes(reading);
  const marks = (which: "first" | "now"): Mark[] =>
    notes.map((n) => ({ key: keyOfNote(n.note) ?? 1, off: ((n[which] ?? n.target) - n.target) / reading.tolerance }));
  const { found, now } = reading.compared;
  const said = t("handover.picture_of", { reading: heading(reading.reading), before: found.outside, notes: found.notes, after: now.outside });
  return (
    <figure class="handover-figure">
      <figcaption>{said}</figcaption>
      <div class="handover-rows">
        <span>{t("handover.before")}</span>
        <span>{t("handover.after")}</span>
        <svg viewBox={`0 0 ${width} ${4 * half + gap}`} role="img" aria-label={said} preserveAspectRatio="none">
          <defs>
            <pattern id="handover-hatch" width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
              <line x1="0" y1="0" x2="0" y2="6" class="handover-hatch" />
            </pattern>
          </defs>
          <Row marks={marks("first")} top={0} label={t("handover.before")} />
          <Row marks={marks("now")} top={2 * half + gap} label={t("handover.after")} />
        </svg>
      </div>
    </figure>
  );
}
