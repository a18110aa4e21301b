// The note drawn: the whole of it, and three places enlarged with their measures.
import type { Frame, WhatIf } from "../../api/note_types.ts";
import { belowOf, depthOf, place } from "../../drawing/frames.ts";
import { Level, Measure, SideView, type Cut, type View } from "../../drawing/side_view.tsx";
import { showLength } from "../../quantities/show.ts";
import { t } from "../../words/index.ts";

const aroundJack = new Set([
  "flanges", "let-off-button", "drop-screw", "rest-cushion", "wippen", "repetition-lever", "jack", "hammer",
]);
const atString = new Set(["string", "hammer"]);
const atFront = new Set(["key-frame", "key"]);

function at(note: WhatIf, code: string): [part: number, x: number, y: number] {
  const [part, x, y] = note.points[code] ?? [];
  return [part ?? -1, x ?? 0, y ?? 0];
}

function Pointer({ view, x, y, to, words, anchor = "middle" }: { view: View; x: number; y: number; to: { x: number; y: number }; words: string; anchor?: "start" | "middle" | "end" }) {
  const [px, py] = [view.x(to.x), view.y(to.y)];
  return (
    <g>
      <path class="side-pointer" d={`M${x} ${y + (py > y ? 5 : -14)}L${px} ${py}`} />
      <circle class="side-dot" cx={px} cy={py} r="2.5" />
      <text class="side-name" x={x} y={y} text-anchor={anchor}>
        {words}
      </text>
    </g>
  );
}

export function Whole({ note, frame }: { note: WhatIf; frame: Frame }) {
  const front = place(frame, at(note, "key-front"));
  const frontRest = at(note, "key-front");
  const crown = place(frame, at(note, "crown"));
  const box = bounds(note);
  const depth = depthOf(frame);
  const below = belowOf(frame);
  return (
    <SideView
      class="note-whole"
      note={note}
      frame={frame}
      cut={box}
      most={330}
      label={t("note.drawn", { depth: showLength(depth, 1), below: showLength(below, 1) })}
    >
      {(view) => {
        const roomy = view.width > 600;
        const rest = view.y(front.y + depth);
        return (
          <>
            <Level y={rest} from={view.x(frontRest[1]) - 14} to={view.x(frontRest[1] + 70)} kind="quiet" />
            {depth > 0.05 && (
              <text class="side-name side-strong" x={view.x(frontRest[1] + 4)} y={rest - 8}>
                {t("note.down", { depth: showLength(depth, 1) })}
              </text>
            )}
            <path class="note-finger" d={`M${view.x(front.x)} ${view.y(front.y) - 34}v28m-6 -10l6 10l6 -10`} />
            <Measure x={view.x(crown.x) - 30} from={view.y(note.string)} to={view.y(crown.y)} words={showLength(below, 1)} side={-1} />
            <Level y={view.y(crown.y)} from={view.x(crown.x) - 38} to={view.x(crown.x)} kind="hammer" />
            {roomy && (
              <>
                <Pointer view={view} x={view.x(-100)} y={view.y(52)} to={place(frame, [3, -95, 10])} words={t("part.key")} />
                <Pointer view={view} x={view.x(at(note, "capstan")[1] - 26)} y={view.y(40)} to={place(frame, at(note, "capstan"))} words={t("part.capstan")} anchor="end" />
                <Pointer view={view} x={view.x(40)} y={view.y(88)} to={place(frame, at(note, "jack-pin"))} words={t("part.wippen")} anchor="end" />
                <Pointer view={view} x={view.x(at(note, "check")[1] - 26)} y={view.y(32)} to={place(frame, [at(note, "check")[0], at(note, "check")[1] - 5, at(note, "check")[2] - 14])} words={t("part.back-check")} anchor="end" />
                <Pointer view={view} x={view.x(crown.x - 110)} y={view.y(note.string) + 30} to={place(frame, at(note, "head"))} words={t("part.hammer")} anchor="end" />
              </>
            )}
          </>
        );
      }}
    </SideView>
  );
}

function bounds(note: WhatIf): Cut {
  let [left, right] = [0, 0];
  for (const group of note.fixed) {
    if (group.code !== "key-frame") continue;
    for (const shape of group.shapes)
      for (let i = 0; i < shape.points.length; i += 2) {
        left = Math.min(left, shape.points[i]!);
        right = Math.max(right, shape.points[i]!);
      }
  }
  return { left: left - 12, right: right + 10, low: -34, high: note.string + 26 };
}

export function AroundJack({ note, frame }: { note: WhatIf; frame: Frame }) {
  const [toe, lever, jack, pin] = [at(note, "toe"), at(note, "lever-pin"), at(note, "jack-pin"), at(note, "hammer-pin")];
  const middle = { x: (toe[1] + lever[1]) / 2 - 2, y: (jack[2] + pin[2]) / 2 };
  const cut = { left: middle.x - 47, right: middle.x + 47, low: middle.y - 33, high: middle.y + 31 };
  return (
    <SideView class="note-inset" note={note} frame={frame} cut={cut} only={aroundJack} label={t("note.inset.jack")}>
      {(view) => (
        <>
          <Pointer view={view} x={view.x(cut.left) + 6} y={view.height - 12} to={place(frame, toe)} words={t("part.jack-toe")} anchor="start" />
          <Pointer view={view} x={view.x(cut.left) + 6} y={52} to={place(frame, at(note, "button"))} words={t("part.let-off-button")} anchor="start" />
          <Pointer view={view} x={view.x(cut.left) + 6} y={22} to={place(frame, at(note, "drop"))} words={t("part.drop-screw")} anchor="start" />
          <Pointer view={view} x={view.width - 6} y={view.height * 0.2} to={place(frame, at(note, "knuckle"))} words={t("part.knuckle")} anchor="end" />
          <Pointer view={view} x={view.width - 6} y={view.height - 44} to={place(frame, [6, at(note, "lever-pin")[1] - 12, at(note, "lever-pin")[2] + 2])} words={t("part.lever")} anchor="end" />
          <Pointer view={view} x={view.width / 2 + 20} y={view.height - 12} to={place(frame, at(note, "jack-pin"))} words={t("part.jack")} anchor="start" />
        </>
      )}
    </SideView>
  );
}

/** Let-off and drop are a few millimetres: the crown's last way, enlarged. */
export function AtString({ note, frame }: { note: WhatIf; frame: Frame }) {
  const crown = at(note, "crown");
  const cut = { left: crown[1] - 13, right: crown[1] + 13, low: note.string - 8.5, high: note.string + 2.5 };
  const letOff = note.readings["let-off"] ?? null;
  const drop = note.readings["drop"] ?? null;
  return (
    <SideView class="note-inset" note={note} frame={frame} cut={cut} only={atString} label={t("note.inset.string")}>
      {(view) => {
        const line = view.y(note.string);
        const low = letOff === null ? line : view.y(note.string - letOff);
        const fallen = letOff === null || drop === null ? low : view.y(note.string - letOff - drop);
        return (
          <>
            <text class="side-name" x={6} y={line - 7}>
              {t("part.string")}
            </text>
            {letOff !== null && (
              <>
                <Level y={low} from={0} to={view.width} kind="let-off" />
                <Measure x={view.width - 26 - Math.min(110, view.width * 0.3)} from={line} to={low} words={`${t("reading.let-off")} ${showLength(letOff, 2)}`} side={-1} />
              </>
            )}
            {letOff !== null && drop !== null && (
              <>
                <Level y={fallen} from={0} to={view.width} kind="drop" />
                <Measure x={view.width - 24} from={low} to={fallen} words={`${t("reading.drop")} ${showLength(drop, 2)}`} side={-1} />
              </>
            )}
          </>
        );
      }}
    </SideView>
  );
}

/** The key's front on its way to the punchings: dip and what of it is left after the hammer has fallen. */
export function AtFront({ note, frame, dipCode }: { note: WhatIf; frame: Frame; dipCode: string }) {
  const front = at(note, "key-front");
  const top = front[2];
  const dip = note.readings[dipCode] ?? null;
  const after = note.readings["aftertouch"] ?? null;
  const now = place(frame, front);
  const rest = now.y + depthOf(frame);
  const cut = { left: front[1] - 16, right: front[1] + 40, low: -4, high: top + 5 };
  return (
    <SideView class="note-inset" note={note} frame={frame} cut={cut} only={atFront} label={t("note.inset.front")}>
      {(view) => {
        const high = view.y(rest);
        const low = dip === null ? high : view.y(rest - dip);
        const free = dip === null || after === null ? low : view.y(rest - dip + after);
        return (
          <>
            <Level y={high} from={0} to={view.width} kind="quiet" />
            {dip !== null && (
              <>
                <Level y={low} from={0} to={view.width} kind="let-off" />
                <Measure x={view.width - 150} from={high} to={low} words={`${t("reading.dip")} ${showLength(dip, 2)}`} side={-1} />
              </>
            )}
            {after !== null && (
              <>
                <Level y={free} from={0} to={view.width} kind="drop" />
                <Measure x={view.width - 22} from={free} to={low} words={`${t("reading.aftertouch")} ${showLength(after, 2)}`} side={-1} />
              </>
            )}
          </>
        );
      }}
    </SideView>
  );
}
