// Quantities as they are read: value, thin space, unit; minus −; the decimal mark of the language.
// As core/quantities prints them; data/api-examples/quantities.json holds both to it.
import { language, unit } from "../state/choices.ts";
import { plural, t } from "../words/index.ts";
import { moveUnits, readingShown, type ReadingShown } from "./kinds.ts";

export const thin = "\u202f";
const minus = "\u2212";
const slash = "\u2044";
const none = "–";

const vulgar: Record<string, string> = {
  "1/2": "½",
  "1/3": "⅓",
  "2/3": "⅔",
  "1/4": "¼",
  "3/4": "¾",
  "1/5": "⅕",
  "2/5": "⅖",
  "3/5": "⅗",
  "4/5": "⅘",
  "1/6": "⅙",
  "5/6": "⅚",
  "1/8": "⅛",
  "3/8": "⅜",
  "5/8": "⅝",
  "7/8": "⅞",
};

/** Halves to the even digit, as the core prints: toFixed takes them up. */
function fixed(value: number, decimals: number): string {
  const power = 10 ** decimals;
  const half = value * power;
  // A true half is a sum of powers of two; 0.005 only looks like one.
  const tie = half % 1 === 0.5 && Number.isInteger(value * 2 ** 20);
  return tie ? ((2 * Math.round(half / 2)) / power).toFixed(decimals) : value.toFixed(decimals);
}

/** "45.20", "−0,5"; never "−0.00"; "–" where there is no number. */
export function showNumber(value: number | null, decimals = 2, plus = false): string {
  if (value === null || !Number.isFinite(value)) return none;
  const digits = fixed(Math.abs(value), decimals);
  const zero = !/[1-9]/.test(digits);
  const said = language.value === "de" ? digits.replace(".", ",") : digits;
  if (zero) return said;
  return value < 0 ? minus + said : plus ? `+${said}` : said;
}

/** "½", "3⁄64", "1¾", "1 3⁄64"; the denominator is positive. */
export function showFraction(numerator: number, denominator: number): string {
  const sign = numerator < 0 ? minus : "";
  const top = Math.abs(numerator);
  const whole = Math.floor(top / denominator);
  let [a, b] = [top % denominator, denominator];
  if (a === 0) return `${sign}${whole}`;
  while (b !== 0) [a, b] = [b, a % b];
  const part = (top % denominator) / a;
  const parts = denominator / a;
  const before = whole === 0 ? "" : `${whole}`;
  const one = vulgar[`${part}/${parts}`];
  if (one) return sign + before + one;
  return `${sign}${before}${whole === 0 ? "" : thin}${part}${slash}${parts}`;
}

/** Whole parts, halves away from zero, with the core's slack of a part in 10⁹. */
function nearestPart(parts: number): number {
  return Math.sign(parts) * Math.floor(Math.abs(parts) + 0.5 + 1e-9) || 0;
}

/** "1¾″", to the nearest 1/denominator. */
export function showInchFraction(mm: number, denominator = 64): string {
  return `${showFraction(nearestPart((mm / 25.4) * denominator), denominator)}″`;
}
/** "3⁄64 turn", "1¼ turns": the amount only. */
export function showTurns(turns: number, denominator = 64): string {
  const count = nearestPart(Math.abs(turns) * denominator);
  const one = count > 0 && count <= denominator;
  return `${showFraction(count, denominator)} ${one ? t("unit.turn") : t("unit.turns")}`;
}

/** mm with `decimals`, or, in inches, thousandths. */
export function showLength(mm: number | null, decimals = 2): string {
  if (mm === null || !Number.isFinite(mm)) return none;
  if (unit.value === "in") return `${showNumber(mm / 25.4, 3)}${thin}in`;
  return `${showNumber(mm, decimals)}${thin}mm`;
}

function shownOf(code: string): ReadingShown {
  return readingShown[code] ?? { unit: "mm", decimals: 2 };
}

/** A reading's value with its unit: "45.2 mm", "1 25⁄32″", "48 gf", "2". */
export function showReading(code: string, value: number | null): string {
  if (value === null || !Number.isFinite(value)) return none;
  const shown = shownOf(code);
  if (shown.unit === "mm") {
    return unit.value === "in" && shown.fraction ? showInchFraction(value) : showLength(value, shown.decimals);
  }
  if (shown.unit === "grade") return t("unit.grade_of", { value: showNumber(value, Number.isInteger(value) ? 0 : 1) });
  if (shown.unit === "") return `${showNumber(value * 100, 0)}${thin}%`;
  return `${showNumber(value, shown.decimals)}${thin}${shown.unit}`;
}

/** How unsure: "± 0.12 mm", in inches always thousandths. */
export function showSpread(code: string, sd: number | null): string {
  if (sd === null || !Number.isFinite(sd)) return none;
  const shown = shownOf(code);
  if (shown.unit === "mm") return `±${thin}${showLength(sd, 2)}`;
  if (shown.unit === "") return `±${thin}${showNumber(sd * 100, 0)}${thin}%`;
  const symbol = shown.unit === "grade" ? "" : `${thin}${shown.unit}`;
  return `±${thin}${showNumber(sd, 1)}${symbol}`;
}

/** A difference with its sign: "+0.35 mm", in inches thousandths. */
export function showDifference(code: string, value: number | null): string {
  if (value === null || !Number.isFinite(value)) return none;
  const sign = value > 0 ? "+" : "";
  const shown = shownOf(code);
  if (shown.unit === "mm") return sign + showLength(value, 2);
  if (shown.unit === "") return `${showNumber(value * 100, 0, true)}${thin}%`;
  return `${showNumber(value, 1, true)}${shown.unit === "grade" ? "" : thin + shown.unit}`;
}

/** A move's amount without its direction: "3⁄64 turn", "0.10 mm", "2 steps". */
export function showAmount(adjusterCode: string, amount: number | null): string {
  if (amount === null || !Number.isFinite(amount)) return none;
  const kind = moveUnits[adjusterCode] ?? "mm";
  if (kind === "turns") return showTurns(amount);
  if (kind === "mm") return showLength(Math.abs(amount), 2);
  const steps = Math.abs(amount);
  return plural("unit.steps", steps, { value: showNumber(steps, Number.isInteger(steps) ? 0 : 1) });
}

/** A share or a chance, 0…1, in whole hundredths: "20 %". */
export function showShare(share: number | null): string {
  return share === null || !Number.isFinite(share) ? none : `${showNumber(share * 100, 0)}${thin}%`;
}

/** How long one step takes: "12 s", "1.5 min". */
export function showPace(minutes: number): string {
  return minutes < 1 ? `${Math.max(5, 5 * Math.round(minutes * 12))}${thin}s` : `${showNumber(minutes, 1)}${thin}min`;
}

/** Minutes as "25 min", "1 h 20 min". */
export function showMinutes(minutes: number | null): string {
  if (minutes === null || !Number.isFinite(minutes)) return none;
  const whole = Math.round(minutes);
  const hours = Math.floor(whole / 60);
  const rest = whole % 60;
  if (hours === 0) return `${rest}${thin}min`;
  return rest === 0 ? `${hours}${thin}h` : `${hours}${thin}h ${rest}${thin}min`;
}
