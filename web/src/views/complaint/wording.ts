// A diagnosis in the user's language, from its codes and numbers.
import type { Diagnosis, LookCompared, Mend } from "../../api/complaint_types.ts";
import { readingShown } from "../../quantities/kinds.ts";
import { showNumber, showReading, thin } from "../../quantities/show.ts";
import { capital } from "../../words/capital.ts";
import { hasWord, t, tCode, tReading } from "../../words/index.ts";

/** Acted on from this chance; below it is not known (core/regulation/complaint: known_from). */
const known_from = 0.8;

export const felt = (code: string) => tCode(`complaint.felt.${code}`, code);
export const cause = (code: string) => tCode(`complaint.cause.${code}`, code);
export const remedy = (code: string) => tCode(`complaint.remedy.${code}`, "");
export const taking = (code: string) => tCode(`complaint.taking.${code}`, code);

export const isTrial = (look: string) => hasWord(`complaint.look.${look}.0`);
export const lookName = (look: string) =>
  isTrial(look) ? tCode(`complaint.look.${look}`, look) : tReading(look);

/** "0.45 mm"; of a trial by hand what was found ("is slow"); "cannot be read". */
export function lookValue(look: string, value: number | null): string {
  if (value === null || !Number.isFinite(value)) {
    const why = tCode(`complaint.none.${look}`, "");
    return why === "" ? t("complaint.unreadable") : `${t("complaint.unreadable")} (${why})`;
  }
  if (isTrial(look)) return tCode(`complaint.look.${look}.${Math.min(2, Math.max(0, Math.round(value)))}`, "");
  // Expected grades are means; a grade is read whole.
  if (readingShown[look]?.unit === "grade") return t("complaint.grade", { value: showNumber(Math.round(value), 0) });
  return showReading(look, value);
}

/** Never "100 %": nothing is certain. */
export const share = (p: number) => `${showNumber(Math.min(99, Math.round(100 * p)), 0)}${thin}%`;

export function likelihood(p: number): string {
  if (p >= known_from) return t("complaint.very_likely");
  if (p >= 0.5) return t("complaint.likely");
  if (p >= 0.15) return t("complaint.possible");
  return p >= 0.03 ? t("complaint.unlikely") : t("complaint.hardly");
}

export function summary(d: Diagnosis): string {
  const first = d.causes[0];
  const second = d.causes[1];
  if (!first || !second) return "";
  if (d.known) return t("complaint.known", { cause: cause(first.cause), share: share(first.probability) });
  if (first.probability >= known_from && first.cause === "no-fault")
    return t("complaint.in_order", { share: share(first.probability) });
  if (first.probability >= known_from && first.cause === "something-else")
    return t("complaint.none_fits", { share: share(first.probability) });
  return t("complaint.unknown", {
    first: cause(first.cause),
    first_share: share(first.probability),
    second: cause(second.cause),
    second_share: share(second.probability),
  });
}

/** Those that tell the cause from a note in order, and those that do not, as the hand would read them. */
export function compared(looks: readonly LookCompared[]): { tell: LookCompared[]; same: LookCompared[] } {
  const same = (l: LookCompared) => lookValue(l.look, l.given) === lookValue(l.look, l.sound);
  return { tell: looks.filter((l) => !same(l)), same: looks.filter(same) };
}

export function mendWords(mend: Mend): string {
  const told = mend.adjuster === null ? `${remedy(mend.cause)} ${t("complaint.no_adjuster")}` : remedy(mend.cause);
  if (mend.adjuster === null || mend.read_by === null || mend.to === null) return told;
  const params = { look: lookName(mend.read_by), to: lookValue(mend.read_by, mend.to) };
  const range =
    mend.from === null
      ? t("complaint.mend_to", params)
      : t("complaint.mend_from", { ...params, from: lookValue(mend.read_by, mend.from) });
  return `${told} ${capital(range)}`;
}
