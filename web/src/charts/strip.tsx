// The strip: a keyboard along the foot of every view and, on its x-axis, lanes of what is known.
import { effect, signal } from "@preact/signals";
import { useEffect, useId, useLayoutEffect, useRef, useState } from "preact/hooks";
import type { Strip as StripData } from "../api/types.ts";
import { Choice } from "../controls/index.ts";
import { notePrinted } from "../quantities/notes.ts";
import { showNumber } from "../quantities/show.ts";
import { chosenKey, strip } from "../state/piano.ts";
import { view } from "../state/where.ts";
import { t, tReading } from "../words/index.ts";
import { keyAt, keyboardWidth, keyPlaces, nearestKey, type KeyPlace } from "./keyboard.ts";
import { LaneDrawing } from "./lane.tsx";
import { lane, laneNames, place, type LaneName } from "./lanes.ts";
import { Readout, said } from "./strip_words.tsx";
import { StripTable } from "./strip_table.tsx";
import "./strip.css";

const keys_height = 48; // px
const least_natural = 15; // px a natural on a phone, where the strip scrolls
const sharps_part = 0.62;

type Shown = LaneName | "none";
const narrow = () => typeof innerWidth === "number" && innerWidth < 600;
const shownLane = signal<Shown>(readShown());
function readShown(): Shown {
  try {
    const found = localStorage.getItem("batten.lane");
    const known = laneNames.find((name) => name === found) ?? (found === "none" ? "none" : null);
    if (known) return known;
  } catch {
    // No storage.
  }
  // On a phone the hand's work needs the room; a lane is one choice away.
  return narrow() ? "none" : "line";
}
effect(() => {
  try {
    localStorage.setItem("batten.lane", shownLane.value);
  } catch {
    // Lasts as long as the page.
  }
});

/** Shows a lane; for views that speak of one quantity. */
export function showLane(name: LaneName): void {
  shownLane.value = name;
}

export function Strip() {
  const data = strip.value;
  const [table, setTable] = useState(false);
  if (!data) return null;
  // Hands-on says all this itself, larger: on a phone a sliver of keyboard is enough there.
  const sliver = view.value === "hands" && narrow();
  const shown = sliver ? "none" : shownLane.value;
  return (
    <section class={`strip strip-shows-${shown}`} aria-label={t("strip.title")}>
      {!sliver && <Head data={data} shown={shown} onTable={() => setTable(true)} />}
      <Drawing data={data} shown={shown} />
      {table && <StripTable strip={data} shown={shown === "none" ? "line" : shown} onClose={() => setTable(false)} />}
    </section>
  );
}

/** Which lane, the chosen note in words, and the table. */
function Head({ data, shown, onTable }: { data: StripData; shown: Shown; onTable: () => void }) {
  return (
    <div class="strip-head">
      <Choice
        label={t("strip.lane")}
        hideLabel
        as="list"
        value={shown}
        options={[...laneNames, "none" as const].map((value) => ({ value, label: t(`strip.lane.${value}`) }))}
        onChange={(value) => (shownLane.value = value)}
      />
      <Readout strip={data} shown={shown === "none" ? "line" : shown} />
      <button
        type="button"
        class="button button-quiet strip-table-button"
        aria-label={t("strip.table")}
        onClick={onTable}
      >
        <svg
          width="22"
          height="22"
          viewBox="0 0 22 22"
          aria-hidden="true"
          fill="none"
          stroke="currentColor"
          stroke-width="2"
        >
          <path d="M2 3h18v16H2zM2 8h18M2 13.5h18M9 3v16" />
        </svg>
      </button>
    </div>
  );
}

function Drawing({ data, shown }: { data: StripData; shown: Shown }) {
  const scroller = useRef<HTMLDivElement>(null);
  const [room, setRoom] = useState(0);
  const [tall, setTall] = useState(innerHeight);
  useLayoutEffect(() => {
    const element = scroller.current;
    if (!element) return;
    const watch = new ResizeObserver(() => {
      setRoom(element.clientWidth);
      setTall(innerHeight);
    });
    watch.observe(element);
    setRoom(element.clientWidth);
    return () => watch.disconnect();
  }, []);
  const places = keyPlaces(data.first, data.last);
  const mm = keyboardWidth(places);
  const naturals = places.filter((one) => !one.sharp).length;
  const width = Math.max(room - 2, naturals * least_natural);
  const across = width / mm;
  const laneHeight = shown === "none" ? 0 : tall < 700 ? 84 : tall < 900 ? 108 : 168;
  const height = laneHeight + keys_height;

  // The chosen key stays in sight; only the strip itself is moved.
  useEffect(
    () =>
      effect(() => {
        const at = places.find((one) => one.key === chosenKey.value);
        const element = scroller.current;
        if (!at || !element || element.scrollWidth <= element.clientWidth) return;
        const x = at.middle * across;
        const margin = element.clientWidth / 5;
        if (x < element.scrollLeft + margin) element.scrollLeft = x - margin;
        else if (x > element.scrollLeft + element.clientWidth - margin)
          element.scrollLeft = x - element.clientWidth + margin;
      }),
    [width, data.first, data.last],
  );

  const pick = (event: MouseEvent) => {
    const box = (event.currentTarget as SVGSVGElement).getBoundingClientRect();
    const x = (event.clientX - box.left) / across;
    const y = event.clientY - box.top;
    chosenKey.value =
      y < laneHeight ? nearestKey(places, x) : keyAt(places, x, y < laneHeight + keys_height * sharps_part);
  };
  const step = (event: KeyboardEvent) => {
    const now = chosenKey.value;
    const to =
      event.key === "ArrowLeft" || event.key === "ArrowDown"
        ? now - 1
        : event.key === "ArrowRight" || event.key === "ArrowUp"
          ? now + 1
          : event.key === "Home"
            ? data.first
            : event.key === "End"
              ? data.last
              : null;
    if (to === null) return;
    event.preventDefault();
    event.stopPropagation();
    chosenKey.value = Math.max(data.first, Math.min(data.last, to));
  };
  return (
    <div class="strip-frame">
      {room > 0 && shown !== "none" && <Names data={data} shown={shown} height={laneHeight} across={across} />}
      <div class="strip-scroll" ref={scroller}>
        {room > 0 && (
          <KeySlider data={data} shown={shown} width={width} height={height} onClick={pick} onKeyDown={step}>
            {shown !== "none" && (
              <Lanes data={data} shown={shown} width={width} height={laneHeight} places={places} across={across} />
            )}
            <Keys data={data} places={places} across={across} top={laneHeight} />
            <Chosen data={data} places={places} across={across} top={laneHeight} />
          </KeySlider>
        )}
      </div>
    </div>
  );
}

/** What each band is and at what scale; it stays where the lanes scroll under it. */
function Names({ data, shown, height, across }: { data: StripData; shown: LaneName; height: number; across: number }) {
  const { bands, perUnit } = place(lane(data, shown), height - 4);
  const unit = bands[0]?.series.unit ?? "mm";
  const scale = unit === "mm" ? t("strip.scale", { times: showNumber(perUnit / across, 0) }) : unit;
  return (
    <div class="strip-names" aria-hidden="true">
      {bands.map((band, i) => (
        <span key={band.series.code} style={{ top: `${band.top + 1}px` }}>
          {tReading(band.series.code)}
          {i === 0 && ` · ${scale}`}
        </span>
      ))}
    </div>
  );
}

interface SliderProps {
  data: StripData;
  shown: Shown;
  width: number;
  height: number;
  onClick: (event: MouseEvent) => void;
  onKeyDown: (event: KeyboardEvent) => void;
  children: preact.ComponentChildren;
}
function KeySlider({ data, shown, width, height, onClick, onKeyDown, children }: SliderProps) {
  return (
    <svg
      class="strip-drawing"
      width={width}
      height={height}
      viewBox={`0 0 ${width} ${height}`}
      tabindex={0}
      role="slider"
      aria-label={t("strip.chosen")}
      aria-valuemin={data.first}
      aria-valuemax={data.last}
      aria-valuenow={chosenKey.value}
      aria-valuetext={said(data, chosenKey.value, shown === "none" ? "line" : shown)}
      onClick={onClick}
      onKeyDown={onKeyDown}
    >
      {children}
    </svg>
  );
}

function Lanes({
  data,
  shown,
  width,
  height,
  places,
  across,
}: {
  data: StripData;
  shown: LaneName;
  width: number;
  height: number;
  places: readonly KeyPlace[];
  across: number;
}) {
  const hatch = useId().replace(/[^\w-]/g, "");
  const { bands, perUnit } = place(lane(data, shown), height - 4);
  return (
    <g class="strip-lanes">
      <defs>
        <pattern id={hatch} width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
          <path class="lane-hatch" d="M0 0V6" />
        </pattern>
      </defs>
      <rect class="strip-ground" x="0" y="0" width={width} height={height} />
      {data.sections.slice(0, -1).map((section) => {
        const at = places[section.last - data.first];
        const next = places[section.last - data.first + 1];
        if (!at || !next) return null;
        const x = ((at.middle + next.middle) / 2) * across;
        return <path key={section.last} class="strip-break" d={`M${x} 0V${height}`} />;
      })}
      {bands.map((band, i) => (
        <g key={band.series.code}>
          {i > 0 && <path class="strip-between" d={`M0 ${band.top}H${width}`} />}
          <LaneDrawing strip={data} band={band} perUnit={perUnit} places={places} across={across} hatch={hatch} />
        </g>
      ))}
    </g>
  );
}

interface OnKeys {
  data: StripData;
  places: readonly KeyPlace[];
  across: number;
  top: number;
}

function Keys({ data, places, across, top }: OnKeys) {
  const drawn = [...places.filter((one) => !one.sharp), ...places.filter((one) => one.sharp)];
  return (
    <g>
      {drawn.map((one) => (
        <rect
          key={one.key}
          class={`strip-key ${one.sharp ? "strip-sharp" : "strip-natural"} ${data.served[one.key - data.first] === false ? "strip-unserved" : ""}`}
          x={one.left * across}
          y={top}
          width={Math.max(1, one.width * across)}
          height={keys_height * (one.sharp ? sharps_part : 1) - 1}
        />
      ))}
      {places
        .filter((one) => (one.key - 4) % 12 === 0)
        .map((one) => (
          <text key={one.key} class="strip-octave" x={one.middle * across} y={top + keys_height - 5}>
            {data.notes[one.key - data.first]}
          </text>
        ))}
    </g>
  );
}

function Chosen({ data, places, across, top }: OnKeys) {
  const one = places.find((at) => at.key === chosenKey.value);
  if (!one) return null;
  const x = one.middle * across;
  const name = notePrinted(data.notes[one.key - data.first] ?? "");
  return (
    <g class="strip-chosen" aria-hidden="true">
      <path class="strip-chosen-line" d={`M${x} 0V${top}`} />
      <rect
        x={one.left * across}
        y={top}
        width={one.width * across}
        height={keys_height * (one.sharp ? sharps_part : 1) - 1}
      />
      <path class="strip-chosen-mark" d={`M${x - 6} ${top + 2}H${x + 6}L${x} ${top + 12}Z`} />
      <title>{name}</title>
    </g>
  );
}
