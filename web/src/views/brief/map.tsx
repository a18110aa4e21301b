// The map of one register, a point on it that can be moved, and what the action does there.
import { useEffect, useState } from "preact/hooks";
import type { MapAnswer, RegisterName } from "../../api/brief_types.ts";
import { BriefMap, type Mark } from "../../charts/brief_map.tsx";
import { readAt, type Reading, type Spot } from "../../charts/brief_map_shapes.ts";
import { Button, Choice, ProblemNotice } from "../../controls/index.ts";
import { showLength } from "../../quantities/show.ts";
import { useAnswer } from "../../state/answer.ts";
import { pianoId } from "../../state/piano.ts";
import { t, tCode } from "../../words/index.ts";
import { asked } from "./asking.ts";
import { bottomWords, ms, percent, place } from "./wording.ts";

const blow_step = 0.1; // mm, as a hand can tell
const dip_step = 0.05;

function zoneWords(map: MapAnswer, r: Reading): string {
  const margin = r.margin;
  if (r.zone === "other" || margin === null) return t("brief.at_other");
  const a = map.aftertouch;
  if (r.zone === "none") return t("brief.at_none", { by: showLength(-margin) });
  const shown = showLength(margin);
  if (r.zone === "thin") return t("brief.at_thin", { margin: shown, by: showLength(a.low_mm - margin), edge: showLength(a.low_mm) });
  if (r.zone === "fat") return t("brief.at_fat", { margin: shown, by: showLength(margin - a.high_mm), edge: showLength(a.high_mm) });
  return t("brief.at_works", { margin: shown });
}

function PointWords({ map, at }: { map: MapAnswer; at: Spot }) {
  const r = readAt(map, at);
  const base = t(map.against === "today" ? "brief.of_today" : "brief.of_sheet");
  const power =
    r.power === null ? "–" : Math.abs(r.power) < 0.5 ? t("brief.same", { base }) : t(r.power > 0 ? "brief.stronger" : "brief.weaker", { by: percent(Math.abs(r.power)), base });
  const late = r.travel === null || map.base.travel_ms === null ? null : r.travel - map.base.travel_ms;
  const travel =
    late === null ? "" : Math.abs(late) < 0.05 ? t("brief.same", { base }) : t(late > 0 ? "brief.slower" : "brief.quicker", { by: ms(Math.abs(late)), base });
  const bottom = (value: number | null, of: number | null) => (
    <>
      {bottomWords(value)}
      <span class="brief-small">
        {" "}
        ({base}: {bottomWords(of)})
      </span>
    </>
  );
  return (
    <div class="brief-point">
      <h3>{t("brief.point")}</h3>
      <p class={`brief-zone brief-zone-${r.zone}`} role="status">
        {zoneWords(map, r)} {r.touchesCheck && t("brief.at_check")}
      </p>
      <dl>
        <dt>{t("brief.row_margin")}</dt>
        <dd>{showLength(r.margin)}</dd>
        <dt>{t("brief.row_power")}</dt>
        <dd>{power}</dd>
        <dt>{t("brief.row_travel")}</dt>
        <dd>
          {ms(r.travel)} <span class="brief-small">({travel})</span>
        </dd>
        <dt>{t("brief.row_soft")}</dt>
        <dd>{bottom(r.soft, map.base.soft_ms)}</dd>
        <dt>{t("brief.row_middling")}</dt>
        <dd>{bottom(r.middling, map.base.middling_ms)}</dd>
        <dt>{t("brief.row_loud")}</dt>
        <dd>{bottom(r.loud, map.base.loud_ms)}</dd>
      </dl>
      <p class="brief-small">
        {t("brief.map_error", {
          margin: showLength(map.errors.margin_mm),
          timing: ms(map.errors.timing_ms),
          power: percent(Math.ceil(map.errors.power_percent)),
        })}
      </p>
    </div>
  );
}

function Slider({ label, value, low, high, step, onChange }: { label: string; value: number; low: number; high: number; step: number; onChange: (value: number) => void }) {
  return (
    <label class="brief-slider">
      <span>
        {label} <b>{showLength(value)}</b>
      </span>
      <input
        type="range"
        min={low}
        max={high}
        step={step}
        value={value}
        aria-valuetext={showLength(value)}
        onInput={(event) => onChange(Number(event.currentTarget.value))}
      />
    </label>
  );
}

function Map({ map, name, marks }: { map: MapAnswer; name: string; marks: Mark[] }) {
  const start = map.today ?? map.sheet;
  const held = (p: { blow_mm: number; dip_mm: number }): Spot => ({
    blow: Math.min(Math.max(p.blow_mm, map.blow_low_mm), map.blow_high_mm),
    dip: Math.min(Math.max(p.dip_mm, map.dip_low_mm), map.dip_high_mm),
  });
  const [cursor, setCursor] = useState<Spot>(held(start));
  useEffect(() => setCursor(held(start)), [map.note]);
  const round = (at: Spot): Spot => ({
    blow: Math.round(at.blow / blow_step) * blow_step,
    dip: Math.round(at.dip / dip_step) * dip_step,
  });
  return (
    <div class="brief-map-columns">
      <div>
        <BriefMap map={map} marks={marks} cursor={cursor} onCursor={(at) => setCursor(round(at))} label={t("brief.map_of", { place: name })} />
        <ul class="brief-legend">
          <li>{t("brief.legend_edges")}</li>
          <li>{t("brief.legend_together")}</li>
          <li>{t("brief.legend_power", { against: t(map.against === "today" ? "brief.of_today" : "brief.of_sheet") })}</li>
          {map.faults.some((f) => f & 8) && <li>{t("brief.legend_check")}</li>}
        </ul>
      </div>
      <div class="brief-reading">
        <Slider
          label={t("brief.blow")}
          value={cursor.blow}
          low={map.blow_low_mm}
          high={map.blow_high_mm}
          step={blow_step}
          onChange={(blow) => setCursor({ ...cursor, blow })}
        />
        <Slider
          label={t("brief.dip")}
          value={cursor.dip}
          low={map.dip_low_mm}
          high={map.dip_high_mm}
          step={dip_step}
          onChange={(dip) => setCursor({ ...cursor, dip })}
        />
        <div class="brief-goto" role="group" aria-label={t("brief.go_to")}>
          {marks.map((mark) => (
            <Button key={mark.label} onPress={() => setCursor(held({ blow_mm: mark.blow, dip_mm: mark.dip }))}>
              {mark.name}
            </Button>
          ))}
        </div>
        <PointWords map={map} at={cursor} />
      </div>
    </div>
  );
}

export function MapOf({ registers }: { registers: readonly RegisterName[] }) {
  const [note, setNote] = useState<string | null>(null);
  const now = asked.value;
  const naturals = registers.filter((r) => !r.sharp);
  const where = registers.find((r) => r.note === note) ?? naturals[Math.floor((naturals.length - 1) / 2)] ?? registers[0];
  const piano = pianoId.value;
  // Registers first: the map is asked for once they are answered or stopped.
  const ready = now !== null && now.state !== "asking";
  const path = piano && where && ready ? `/api/pianos/${encodeURIComponent(piano)}/brief/map?where=${encodeURIComponent(where.register)}` : null;
  const answer = useAnswer<MapAnswer>(path);
  if (!where) return null;
  const map = answer.value;
  const marks: Mark[] = [];
  if (map) {
    marks.push({ kind: "sheet", label: t("brief.mark.sheet"), name: t("brief.mark.sheet"), blow: map.sheet.blow_mm, dip: map.sheet.dip_mm });
    if (map.today) marks.push({ kind: "today", label: t("brief.mark.today"), name: t("brief.mark.today"), blow: map.today.blow_mm, dip: map.today.dip_mm });
    (now?.registers[where.note]?.departures ?? []).forEach((way, k) => {
      if (way.figures.blow_mm !== null && way.figures.dip_mm !== null)
        marks.push({
          kind: "way",
          label: `${k + 1}`,
          name: `${k + 1} · ${tCode(`brief.way.${way.code}`, way.code)}`,
          blow: way.figures.blow_mm, dip: way.figures.dip_mm,
        });
    });
  }
  return (
    <section class="brief-section">
      <h2>{t("brief.map")}</h2>
      <Choice
        label={t("brief.map_register")}
        as={registers.length > 5 ? "list" : "row"}
        value={where.note}
        options={registers.map((r) => ({ value: r.note, label: place(r) }))}
        onChange={setNote}
      />
      {!map && !answer.problem && <p role="status">{t("brief.map_drawing")}</p>}
      {answer.problem && <ProblemNotice problem={answer.problem} />}
      {map && <Map map={map} name={place(where)} marks={marks} />}
    </section>
  );
}
