// A brief in the user's language, from its codes and numbers.
import type { Band, Departure, RegisterBrief, RegisterName, Unmet } from "../../api/brief_types.ts";
import { notePrinted } from "../../quantities/notes.ts";
import { showLength, showNumber, thin } from "../../quantities/show.ts";
import { capital } from "../../words/capital.ts";
import { t, tCode, type Key } from "../../words/index.ts";

const mm = (value: number | null, decimals = 2) => showLength(value, decimals);
export const ms = (value: number | null) => `${showNumber(value, 1)}${thin}ms`;
export const percent = (value: number | null) => `${showNumber(value, 0)}${thin}%`;
export const need = (code: string) => tCode(`brief.need.${code}`, code);

/** "Middle (C4)" */
export function place(where: RegisterName): string {
  const section = /^section (\d+)$/.exec(where.register);
  const register = section
    ? t("brief.register.section", { number: section[1]! })
    : tCode(`brief.register.${where.register}`, where.register);
  return t("brief.place", { register, note: notePrinted(where.note) });
}

export function joined(parts: readonly string[]): string {
  if (parts.length < 2) return parts.join("");
  return `${parts.slice(0, -1).join(", ")} ${t("brief.and")} ${parts[parts.length - 1]}`;
}

/** "1.2 ms after the string" */
export function bottomWords(value: number | null): string {
  if (value === null) return "–";
  if (Math.abs(value) < 0.05) return t("brief.with_string");
  return t(value > 0 ? "brief.after_string" : "brief.before_string", { time: ms(Math.abs(value)) });
}

function missWords(code: string, value: number | null, by: number | null, band: Band | undefined): string {
  const low = value !== null && band !== undefined && value < band.low_mm;
  return t(low ? "brief.miss_low" : "brief.miss_high", {
    need: need(code),
    value: mm(value),
    by: mm(by),
    edge: mm(band ? (low ? band.low_mm : band.high_mm) : null),
  });
}

/** What is wrong at the figures; a hindrance the core tells only in English stands by itself. */
export function verdict(r: RegisterBrief): { words: string; english: string } {
  const f = r.sheet;
  if (f.works)
    return {
      words: t("brief.works_at", {
        blow: mm(f.blow_mm, 1),
        dip: mm(f.dip_mm),
        let_off: mm(f.let_off_mm),
        aftertouch: mm(f.aftertouch_mm),
      }),
      english: "",
    };
  const wrong: string[] = [];
  const escapes = !(f.read && f.aftertouch_mm === null && f.escape_margin_mm !== null && f.escape_margin_mm <= 0);
  if (!escapes) wrong.push(t("brief.escape", { by: mm(-(f.escape_margin_mm ?? 0)) }));
  for (const miss of f.misses)
    if (escapes || miss.need !== "aftertouch") wrong.push(missWords(miss.need, miss.value_mm, miss.by_mm, r.bands[miss.need]));
  for (const fault of f.faults) if (fault !== "no-escapement") wrong.push(tCode(`brief.fault.${fault}`, fault));
  if (wrong.length > 0) return { words: t("brief.works_not", { wrong: joined(wrong) }), english: "" };
  return { words: t("brief.works_not", { wrong: t("brief.cannot_set") }), english: f.hindrance };
}

/** Sentences besides: when the key bottoms, how firm the hammer's rest is. */
export function besides(r: RegisterBrief): string[] {
  const f = r.sheet;
  if (!f.read) return [];
  const out: string[] = [];
  const stroke = (effort: string) => f.strokes.find((s) => s.effort === effort)?.bottom_less_string_ms ?? null;
  if (stroke("middling") !== null)
    out.push(
      t("brief.timing", {
        soft: bottomWords(stroke("soft")),
        middling: bottomWords(stroke("middling")),
        loud: bottomWords(stroke("loud")),
      }),
    );
  if (f.rest_scatter_mm === null) return out;
  // As core/regulation/brief/words.cpp: half a millimetre over what a well set jack loses.
  const most_lost = 0.65;
  const repeats = Math.abs(f.rest_scatter_mm) <= (r.bands["rest-scatter"]?.high_mm ?? 0.25);
  out.push(
    t(repeats ? "brief.platform_firm" : "brief.platform_loose", {
      share: percent(100 * (f.lever_share ?? 0)),
      clearance: mm(f.jack_clearance_mm),
      scatter: mm(Math.abs(f.rest_scatter_mm)),
    }),
  );
  if (f.lost_motion_mm !== null && f.lost_motion_mm > most_lost) out.push(t("brief.lost_motion", { lost: mm(f.lost_motion_mm) }));
  if (f.spring_grade < 1) out.push(t("brief.spring_weak"));
  if (f.spring_grade > 3) out.push(t("brief.spring_strong"));
  return out;
}

/** "Dip 0.30 mm deeper (10.30 mm) and let-off 0.10 mm earlier (2.10 mm)" */
export function changeWords(d: Departure): string {
  const parts: string[] = [];
  const say = (key: string, by: number, now: number | null) => {
    if (Math.abs(by) >= 1e-9)
      parts.push(t(`brief.${key}_${by > 0 ? "more" : "less"}` as Key, { by: mm(Math.abs(by)), now: mm(now) }));
  };
  say("blow", d.blow_by_mm, d.figures.blow_mm);
  say("dip", d.dip_by_mm, d.figures.dip_mm);
  say("let_off", d.let_off_by_mm, d.figures.let_off_mm);
  say("drop", d.drop_by_mm, d.figures.drop_mm);
  return capital(joined(parts));
}

/** What it costs; only what a finger would notice. */
export function priceWords(d: Departure): string {
  const parts: string[] = [];
  const say = (key: string, value: number | null, least: number, by: (size: number) => string) => {
    if (value !== null && Math.abs(value) >= least)
      parts.push(t(`brief.${key}_${value > 0 ? "more" : "less"}` as Key, { by: by(Math.abs(value)) }));
  };
  say("power", d.power_percent, 0.5, percent);
  say("travel", d.travel_ms, 0.1, ms);
  say("timing", d.timing_ms, 0.1, ms);
  say("repetition", d.repetition_ms, 1, ms);
  return parts.length === 0 ? t("brief.price_none") : joined(parts);
}

export function unmetWords(u: Unmet, bands: Record<string, Band>): string {
  const band = bands[u.need];
  const name = need(u.need);
  if (u.nearest_mm === null || u.by_mm === null)
    return t("brief.unmet_unknown", { need: name, low: mm(band?.low_mm ?? null), high: mm(band?.high_mm ?? null) });
  const at = { need: name, blow: mm(u.at.blow_mm, 1), dip: mm(u.at.dip_mm), let_off: mm(u.at.let_off_mm), by: mm(u.by_mm) };
  if (u.need !== "aftertouch") return t("brief.unmet_other", { ...at, nearest: mm(u.nearest_mm) });
  if (u.nearest_mm <= 0) return t("brief.unmet_short", { ...at, short: mm(-u.nearest_mm), edge: mm(band?.low_mm ?? null) });
  return u.nearest_mm < (band?.low_mm ?? 0)
    ? t("brief.unmet_thin", { ...at, nearest: mm(u.nearest_mm), edge: mm(band?.low_mm ?? null) })
    : t("brief.unmet_fat", { ...at, nearest: mm(u.nearest_mm), edge: mm(band?.high_mm ?? null) });
}

/** A taper's setting ("46.40 mm; 46.40 to 46.10 mm"), from its first note to its last: "46.40 mm–46.10 mm". */
export function taperWords(value: string): string {
  const ends = [...value.matchAll(/\d+(?:\.\d+)?/g)].map((found) => Number(found[0]));
  const [first, last] = [ends[0], ends[ends.length - 1]];
  if (first === undefined || last === undefined) return value;
  return ends.every((end) => end === first) ? mm(first) : `${mm(first)}–${mm(last)}`;
}
