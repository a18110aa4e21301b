// One lane drawn: tolerance hatched, target a line, belief a curve in its band, readings dots.
import { area, line } from "d3-shape";
import type { Strip } from "../api/types.ts";
import { showAmount } from "../quantities/show.ts";
import { chosenKey, waitingReadings } from "../state/piano.ts";
import type { KeyPlace } from "./keyboard.ts";
import { runs, type Band, type LaneMove } from "./lanes.ts";

interface Props {
  strip: Strip;
  band: Band;
  perUnit: number;
  places: readonly KeyPlace[];
  /** Pixels a millimetre along the keyboard. */
  across: number;
  hatch: string;
}
type Point = { x: number; low: number; high: number };

const known = (value: number | null | undefined): value is number =>
  typeof value === "number" && Number.isFinite(value);

function arrow(x: number, from: number, to: number): string {
  const head = Math.sign(to - from) * Math.min(3.5, Math.abs(to - from));
  return `M${x} ${from}V${to}M${x - 2.5} ${to - head}L${x} ${to}L${x + 2.5} ${to - head}`;
}

export function LaneDrawing({ strip, band, perUnit, places, across, hatch }: Props) {
  const { series } = band;
  const half = band.height / 2;
  const y = (value: number) => {
    const at = band.centre - (value - band.middle) * perUnit;
    return Math.max(band.centre - half - 2, Math.min(band.centre + half + 2, at));
  };
  const x = (at: number) => (places[at]?.middle ?? 0) * across;
  const pointsOf = (from: number, to: number, around: (at: number) => [number, number] | null): Point[] => {
    const list: Point[] = [];
    for (let at = from; at <= to; at++) {
      const found = around(at);
      if (found) list.push({ x: x(at), low: y(found[0]), high: y(found[1]) });
    }
    return list;
  };
  const band_ = area<Point>(
    (p) => p.x,
    (p) => p.low,
    (p) => p.high,
  );
  const curve = line<Point>(
    (p) => p.x,
    (p) => p.low,
  );
  const tolerance = series.tolerance;
  const waits = waitingReadings.value;
  return (
    <g class={`lane-${series.colour}`}>
      {runs(strip).map(({ from, to }) => {
        const target = pointsOf(from, to, (at) =>
          known(series.target[at]) ? [series.target[at]!, series.target[at]!] : null,
        );
        const allowed =
          tolerance === null
            ? []
            : pointsOf(from, to, (at) =>
                known(series.target[at]) ? [series.target[at]! - tolerance, series.target[at]! + tolerance] : null,
              );
        const belief = pointsOf(from, to, (at) => {
          const [mean, sd] = [series.mean[at], series.sd[at]];
          return known(mean) && known(sd) ? [mean - sd, mean + sd] : null;
        });
        const mean = pointsOf(from, to, (at) => (known(series.mean[at]) ? [series.mean[at]!, series.mean[at]!] : null));
        return (
          <g key={from}>
            {allowed.length > 1 && (
              <>
                <path class="lane-tolerance" d={band_(allowed) ?? ""} />
                <path d={band_(allowed) ?? ""} fill={`url(#${hatch})`} />
              </>
            )}
            {belief.length > 1 && <path class="lane-belief" d={band_(belief) ?? ""} />}
            {target.length > 1 && <path class="lane-target" d={curve(target) ?? ""} />}
            {mean.length > 1 && <path class="lane-mean" d={curve(mean) ?? ""} />}
          </g>
        );
      })}
      {series.moves.length > 0 && (
        <path class="lane-moves" d={series.moves.map((move) => arrow(x(move.at), y(move.from), y(move.to))).join("")} />
      )}
      {series.read.map((value, at) => {
        if (!known(value)) return null;
        const [cx, cy] = [x(at), y(value)];
        if (series.doubted[at]) {
          return (
            <g key={at} class="lane-doubt">
              <circle cx={cx} cy={cy} r={3.5} />
              <text x={cx} y={cy > band.top + 20 ? cy - 6 : cy + 15}>
                ?
              </text>
            </g>
          );
        }
        const wait = waits.has(`${series.code}@${at + strip.first}`);
        return <circle key={at} class={wait ? "lane-dot lane-waits" : "lane-dot"} cx={cx} cy={cy} r={wait ? 4 : 2.5} />;
      })}
      <ChosenMove moves={series.moves} first={strip.first} x={x} y={y} />
    </g>
  );
}

/** The chosen note's pending move, with its amount. */
function ChosenMove({
  moves,
  first,
  x,
  y,
}: {
  moves: readonly LaneMove[];
  first: number;
  x: (at: number) => number;
  y: (value: number) => number;
}) {
  const at = chosenKey.value - first;
  const move = moves.find((one) => one.at === at);
  if (!move) return null;
  const left = x(at) > 160;
  const sign = move.to > move.from ? "↑" : "↓";
  return (
    <g class="lane-chosen-move">
      <path d={arrow(x(at), y(move.from), y(move.to))} />
      <text x={x(at) + (left ? -8 : 8)} y={(y(move.from) + y(move.to)) / 2 + 5} text-anchor={left ? "end" : "start"}>
        {showAmount(move.adjuster, move.amount)} {sign}
      </text>
    </g>
  );
}
