// One register over blow and dip. Regions are told apart by hatching and by name, marks by shape.
import { useEffect, useRef, useState } from "preact/hooks";
import type { MapAnswer } from "../api/brief_types.ts";
import { showNumber, thin } from "../quantities/show.ts";
import { unit } from "../state/choices.ts";
import { t } from "../words/index.ts";
import { checkPoints, freeDip, levelLine, marginLine, region, ticks, type Spot } from "./brief_map_shapes.ts";
import "./brief_map.css";

export interface Mark extends Spot {
  kind: "sheet" | "today" | "way";
  label: string;
  /** What it is called where there is room. */
  name: string;
}
interface Props {
  map: MapAnswer;
  marks: readonly Mark[];
  cursor: Spot;
  onCursor: (at: Spot) => void;
  label: string;
}
const left = 52;
const right = 14;
const top = 26;
const foot = 50;
const far = 1e3; // mm, beyond any margin

function useWidth(): [preact.RefObject<HTMLDivElement | null>, number] {
  const ref = useRef<HTMLDivElement>(null);
  const [width, setWidth] = useState(640);
  useEffect(() => {
    const element = ref.current;
    if (!element) return;
    const look = new ResizeObserver(() => setWidth(Math.max(300, element.clientWidth)));
    look.observe(element);
    return () => look.disconnect();
  }, []);
  return [ref, width];
}

export function BriefMap({ map, marks, cursor, onCursor, label }: Props) {
  const [ref, width] = useWidth();
  const height = Math.round(Math.min(520, Math.max(320, width * 0.72)));
  const w = width - left - right;
  const h = height - top - foot;
  const x = (blow: number) => left + ((blow - map.blow_low_mm) / (map.blow_high_mm - map.blow_low_mm)) * w;
  const y = (dip: number) => top + h - ((dip - map.dip_low_mm) / (map.dip_high_mm - map.dip_low_mm)) * h;
  const points = (line: readonly Spot[]) => line.map((p) => `${x(p.blow).toFixed(1)},${y(p.dip).toFixed(1)}`).join(" ");
  const a = map.aftertouch;
  const move = (event: PointerEvent & { currentTarget: SVGSVGElement }) => {
    const box = event.currentTarget.getBoundingClientRect();
    const bx = (event.clientX - box.left - left) / w;
    const by = 1 - (event.clientY - box.top - top) / h;
    const within = (share: number, low: number, high: number) => low + Math.min(1, Math.max(0, share)) * (high - low);
    onCursor({ blow: within(bx, map.blow_low_mm, map.blow_high_mm), dip: within(by, map.dip_low_mm, map.dip_high_mm) });
  };
  const zones = [
    { key: "none", low: -far, high: 0, place: 0.68, fill: "url(#brief-close)" },
    { key: "thin", low: 0, high: a.low_mm, place: 0.05, fill: "url(#brief-wide)" },
    { key: "works", low: a.low_mm, high: a.high_mm, place: 0.05, fill: "var(--band)" },
    { key: "fat", low: a.high_mm, high: far, place: 0.05, fill: "url(#brief-dots)" },
  ] as const;
  const inches = unit.value === "in";
  const shown = inches ? 1 / 25.4 : 1;
  const decimals = inches ? 2 : 0;
  const power = [-16, -12, -8, -4, 4, 8, 12, 16]
    .map((level) => ({ level, line: levelLine(map, map.power_percent, level, true, (margin) => margin > 0) }))
    .filter((one) => one.line.length >= 3);
  const together = levelLine(map, map.bottom_less_string_middling_ms, 0, false);
  return (
    <div class="brief-map" ref={ref}>
      <svg
        width={width}
        height={height}
        viewBox={`0 0 ${width} ${height}`}
        role="img"
        aria-label={`${label}. ${t("brief.map_text")}`}
        onPointerDown={(event) => {
          event.currentTarget.setPointerCapture(event.pointerId);
          move(event);
        }}
        onPointerMove={(event) => {
          if (event.currentTarget.hasPointerCapture(event.pointerId)) move(event);
        }}
      >
        <defs>
          <pattern id="brief-close" width="7" height="7" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
            <line class="map-hatch" x1="0" y1="0" x2="0" y2="7" />
          </pattern>
          <pattern id="brief-wide" width="16" height="16" patternUnits="userSpaceOnUse" patternTransform="rotate(-45)">
            <line class="map-hatch" x1="0" y1="0" x2="0" y2="16" />
          </pattern>
          <pattern id="brief-dots" width="13" height="13" patternUnits="userSpaceOnUse">
            <circle class="map-dot" cx="4" cy="4" r="1.3" />
          </pattern>
          <clipPath id="brief-frame">
            <rect x={left} y={top} width={w} height={h} />
          </clipPath>
        </defs>
        {zones.map((zone) => (
          <polygon key={zone.key} class="map-zone" fill={zone.fill} points={points(region(map, zone.low, zone.high))} />
        ))}
        <g clip-path="url(#brief-frame)">
          {power.map(({ level, line }) => (
            <polyline key={level} class="map-power" points={points(line)} />
          ))}
          {[0, a.low_mm, a.high_mm].map((level) => (
            <polyline key={level} class="map-edge" points={points(marginLine(map, level))} />
          ))}
          <polyline class="map-together" points={points(together)} />
          {checkPoints(map).map((p) => (
            <path key={`${p.blow} ${p.dip}`} class="map-check" d={`M${x(p.blow) - 4},${y(p.dip) - 4}l8,8m0,-8l-8,8`} />
          ))}
        </g>
        <rect class="map-frame" x={left} y={top} width={w} height={h} />
        {ticks(map.blow_low_mm * shown, map.blow_high_mm * shown, width < 480 ? 4 : 8).map((tick) => (
          <g key={tick}>
            <line class="map-tick" x1={x(tick / shown)} x2={x(tick / shown)} y1={top + h} y2={top + h + 6} />
            <text class="map-text" x={x(tick / shown)} y={top + h + 22} text-anchor="middle">
              {showNumber(tick, decimals)}
            </text>
          </g>
        ))}
        {ticks(map.dip_low_mm * shown, map.dip_high_mm * shown, 6).map((tick) => (
          <g key={tick}>
            <line class="map-tick" x1={left - 6} x2={left} y1={y(tick / shown)} y2={y(tick / shown)} />
            <text class="map-text" x={left - 9} y={y(tick / shown) + 5} text-anchor="end">
              {showNumber(tick, inches ? 2 : 1)}
            </text>
          </g>
        ))}
        <text class="map-text" x={left + w / 2} y={height - 6} text-anchor="middle">
          {t("brief.axis_blow", { unit: unit.value })}
        </text>
        <text class="map-text" x={4} y={16}>
          {t("brief.axis_dip", { unit: unit.value })}
        </text>
        {power.map(({ level, line }) => {
          const last = line[line.length - 1]!;
          if (x(last.blow) < left + 90 || x(last.blow) > left + w - 18) return null;
          return (
            <text key={level} class="map-text map-power-text" x={x(last.blow)} y={top - 7} text-anchor="middle">
              {`${showNumber(level, 0, true)}${thin}%`}
            </text>
          );
        })}
        {together.length > 1 && (
          <text
            class="map-text map-together-text"
            x={x(together[together.length - 1]!.blow) - 6}
            y={y(together[together.length - 1]!.dip) + 22}
            text-anchor="end"
          >
            {t("brief.together")}
          </text>
        )}
        {zones.map((zone) => {
          const i = Math.round(zone.place * (map.blows - 1));
          const low = freeDip(map, i, zone.low);
          const high = freeDip(map, i, zone.high);
          if (low === null || high === null) return null;
          const hold = (dip: number) => Math.min(Math.max(dip, map.dip_low_mm), map.dip_high_mm);
          const [bottom, above] = [y(hold(low)), y(hold(high))];
          if (bottom - above < 20) return null;
          const at = map.blow_low_mm + zone.place * (map.blow_high_mm - map.blow_low_mm);
          // At the left edge, where no mark is likely.
          const anchor = zone.place < 0.5 ? "start" : "middle";
          return (
            <text key={zone.key} class="map-text map-name" x={x(at)} y={(bottom + above) / 2 + 5} text-anchor={anchor}>
              {t(`brief.zone.${zone.key}`)}
            </text>
          );
        })}
        {/* Ways first, so that none hides the sheet or today. */}
        {[...marks].reverse().map((mark) => (
          <MarkShape key={`${mark.kind}${mark.label}`} mark={mark} x={x(mark.blow)} y={y(mark.dip)} />
        ))}
        <g class="map-cursor">
          <line x1={left} x2={left + w} y1={y(cursor.dip)} y2={y(cursor.dip)} />
          <line x1={x(cursor.blow)} x2={x(cursor.blow)} y1={top} y2={top + h} />
          <circle cx={x(cursor.blow)} cy={y(cursor.dip)} r="11" />
        </g>
      </svg>
    </div>
  );
}

function MarkShape({ mark, x, y }: { mark: Mark; x: number; y: number }) {
  const words = (dx: number, dy: number, anchor: "start" | "end") => (
    <text class="map-text map-name" x={x + dx} y={y + dy} text-anchor={anchor}>
      {mark.label}
    </text>
  );
  if (mark.kind === "sheet")
    return (
      <g class="map-sheet">
        <path d={`M${x - 9},${y}h18m-9,-9v18`} />
        {words(-11, 20, "end")}
      </g>
    );
  if (mark.kind === "today")
    return (
      <g class="map-today">
        <circle cx={x} cy={y} r="7" />
        <circle class="map-today-dot" cx={x} cy={y} r="2.5" />
        {words(-12, -9, "end")}
      </g>
    );
  return (
    <g class="map-way">
      <rect x={x - 10} y={y - 10} width="20" height="20" rx="3" />
      <text x={x} y={y + 5} text-anchor="middle">
        {mark.label}
      </text>
    </g>
  );
}
