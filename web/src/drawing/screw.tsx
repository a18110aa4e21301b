// What the hand does, drawn from the side it works from: a screw's head and its turn, papers laid in
// or taken out, or which way a part is bent.
import type { Hand } from "../api/plan_types.ts";
import { showFraction, showLength } from "../quantities/show.ts";
import { t } from "../words/index.ts";
import { turnArc } from "./arcs.ts";
import "./drawing.css";

/** How the head looks on most actions; a capstan is turned by a tool in its holes. */
const heads: Record<string, "slot" | "holes" | "hex"> = {
  capstan: "holes",
  "let-off-button": "holes",
  "jack-button": "slot",
  "lever-height-button": "slot",
  "drop-screw": "slot",
};

const size = 200;
const middle = size / 2;
const rim = 78;

function Head({ kind, degrees, ghost }: { kind: "slot" | "holes" | "hex"; degrees: number; ghost?: boolean }) {
  const mark =
    kind === "holes" ? (
      <>
        <circle cx={middle} cy={middle - 34} r="8" />
        <circle cx={middle} cy={middle + 34} r="8" />
      </>
    ) : (
      <rect x={middle - 5} y={middle - 46} width="10" height="92" rx="3" />
    );
  return (
    <g class={ghost ? "screw-mark screw-before" : "screw-mark"} transform={`rotate(${degrees} ${middle} ${middle})`}>
      {mark}
    </g>
  );
}

/** A screw of `turns`, + as the catalogue counts, turned the way `hand` says; null: not on record. */
export function Screw({ adjuster, turns, hand }: { adjuster: string; turns: number; hand: Hand | null }) {
  const kind = heads[adjuster] ?? "slot";
  if (!hand) return <Way up={turns > 0} label={t("drawing.way_unknown")} />;
  const arc = turnArc(turns, hand, middle, rim);
  const words = t(`drawing.turn.${hand}`, { amount: showFraction(Math.round(Math.abs(turns) * 64), 64) });
  return (
    <svg class="screw" viewBox={`0 0 ${size} ${size}`} role="img" aria-label={words}>
      <circle class="screw-head" cx={middle} cy={middle} r="56" />
      <Head kind={kind} degrees={0} ghost />
      <g class="screw-turns" style={`--turn:${arc.whole > 0 ? (hand === "clockwise" ? 360 : -360) : arc.degrees}deg`}>
        <Head kind={kind} degrees={arc.degrees} />
      </g>
      <path class="screw-zero" d={`M${middle} ${middle - rim - 12}V${middle - rim + 12}`} />
      <path class="screw-arc" d={arc.path} />
      <path class="screw-arrow" d={arc.arrow} />
      {arc.whole > 0 && (
        <text class="screw-count" x={middle} y={middle + 10}>
          {showFraction(Math.round(Math.abs(turns) * 64), 64)}
        </text>
      )}
    </svg>
  );
}

/** An arrow where no turn can be drawn: up for more, down for less. */
function Way({ up, label }: { up: boolean; label: string }) {
  return (
    <svg class="screw" viewBox={`0 0 ${size} ${size}`} role="img" aria-label={label}>
      <circle class="screw-head screw-unsure" cx={middle} cy={middle} r="56" />
      <text class="screw-ask" x={middle} y={middle + 16}>
        ?
      </text>
      <path class="screw-arrow" d={up ? "M176 84L192 120H160Z M171 118H181V150H171Z" : "M176 150L192 114H160Z M171 84H181V116H171Z"} />
    </svg>
  );
}

const stack_left = 30;
/** A stack of punchings: cloth, and the papers that come or go. */
export function Papers({ papers, amount }: { papers: readonly number[]; amount: number }) {
  const added = amount > 0;
  const list = papers.length > 0 ? papers : [Math.abs(amount)];
  const thick = (mm: number) => Math.max(14, Math.min(40, 14 + mm * 26));
  let y = 150;
  const rows = list.map((mm) => {
    const height = thick(mm);
    y -= height + 4;
    return { mm, y, height };
  });
  return (
    <svg
      class="screw"
      viewBox={`14 ${Math.min(y, 96) - 8} 186 ${204 - Math.min(y, 96)}`}
      role="img"
      aria-label={t(added ? "drawing.papers.add" : "drawing.papers.take", { papers: list.map((mm) => showLength(mm)).join(" + ") })}
    >
      <rect class="paper-rail" x="20" y="176" width="160" height="16" />
      <rect class="paper-cloth" x={stack_left} y="154" width="90" height="22" rx="4" />
      {rows.map((row, i) => (
        <g key={i}>
          <rect class={added ? "paper paper-in" : "paper paper-out"} x={added ? stack_left : stack_left + 34} y={row.y} width="90" height={row.height} rx="2" />
          <text class="paper-text" x={(added ? stack_left : stack_left + 34) + 45} y={row.y + row.height / 2 + 5}>
            {showLength(row.mm)}
          </text>
        </g>
      ))}
      <path class="screw-arrow" d={added ? "M134 120L160 106V134Z M158 115H184V125H158Z" : "M196 120L176 106V134Z M160 115H178V125H160Z"} />
    </svg>
  );
}

/** A part that is bent or set: in the picture the hand's own side is left. */
export function Bend({ adjuster, amount }: { adjuster: string; amount: number }) {
  const more = amount > 0;
  const words = t(more ? "drawing.bend.more" : "drawing.bend.less");
  if (adjuster === "repetition-spring")
    return (
      <svg class="screw" viewBox={`0 0 ${size} ${size}`} role="img" aria-label={words}>
        <path class="bend-still" d="M24 160H176" />
        <path class="bend-before" d="M40 160C60 90 120 80 168 108" />
        <path class="bend-after" d={more ? "M40 160C54 74 112 56 168 84" : "M40 160C66 104 126 104 168 130"} />
        <path class="screw-arrow" d={more ? "M110 24L124 50H96Z" : "M110 190L124 164H96Z"} />
      </svg>
    );
  // The key lifts the block: higher on its wire it is met later.
  if (adjuster === "damper-wire")
    return (
      <svg class="screw" viewBox={`0 0 ${size} ${size}`} role="img" aria-label={words}>
        <path class="bend-still" d="M20 62H180" />
        <rect class="bend-pad" x="70" y="24" width="60" height="36" rx="4" />
        <path class="bend-wire" d="M100 60V196" />
        <rect class="bend-before" x="60" y="142" width="80" height="18" rx="4" />
        <rect class="bend-block" x="60" y={more ? 122 : 162} width="80" height="18" rx="4" />
        <path class="screw-arrow" d={more ? "M170 112L184 140H156Z M165 138H175V172H165Z" : "M170 186L184 158H156Z M165 126H175V160H165Z"} />
      </svg>
    );
  // The back check: the hammer's tail is on its left.
  return (
    <svg class="screw" viewBox={`0 0 ${size} ${size}`} role="img" aria-label={words}>
      <path class="bend-still" d="M24 184H176" />
      <path class="bend-tail" d="M28 40C34 90 44 120 66 140L78 128C62 104 56 72 56 40Z" />
      <g class="bend-before">
        <path d="M130 184V110" />
        <path d="M122 110L138 44" />
      </g>
      <g class="bend-after">
        <path d={more ? "M130 184L120 112" : "M130 184L140 112"} />
        <path d={more ? "M112 112L118 46" : "M134 112L158 48"} />
      </g>
      <path class="screw-arrow" d={more ? "M84 80L108 66V94Z" : "M190 80L166 66V94Z"} />
    </svg>
  );
}
