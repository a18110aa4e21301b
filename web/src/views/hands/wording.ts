// A step in the user's words, from its codes and numbers.
import type { Hand, Step, Thread, TurnStep } from "../../api/plan_types.ts";
import { showAmount, showLength, showNumber, showReading, showSpread, thin } from "../../quantities/show.ts";
import { unit } from "../../state/choices.ts";
import { capital } from "../../words/capital.ts";
import { t, tCode, tReading } from "../../words/index.ts";

/** "blow", "let-off": what the work with one adjuster is called. */
export const passName = (adjuster: string): string => tCode(`pass.${adjuster}`, adjuster.replaceAll("-", " "));

/** The reading whose name says what is wanted: the blow, also where the hammer's height is read. */
export const meant = (step: Step): string => (step.reading === "hammer-height" ? "blow" : step.reading);

const sign = (amount: number) => (amount < 0 ? "negative" : "positive");

/** "Raise the capstan" */
export function actWords(step: Step): string {
  if (step.kind === "read") return t("hands.do.read", { reading: tReading(step.reading) });
  return tCode(`hands.do.${step.adjuster}.${sign(step.amount)}`, step.adjuster.replaceAll("-", " "));
}

/** "3⁄64 turn", "0.25 + 0.08 mm", "2 steps": without its direction. */
export function amountWords(step: TurnStep): string {
  if (step.papers_mm.length === 0) return showAmount(step.adjuster, step.amount);
  const inches = unit.value === "in";
  const list = step.papers_mm.map((mm) => (inches ? showNumber(mm / 25.4, 3) : showNumber(mm, 2)));
  return `${list.join(" + ")}${thin}${inches ? "in" : "mm"}`;
}

/** The number and its unit apart: the one is read from afar. */
export function apart(amount: string): [string, string] {
  const found = /^(.*\S)[\s\u202f]+(\D+)$/u.exec(amount);
  return found ? [found[1]!, found[2]!] : [amount, ""];
}

/** Which way the hand goes: as the step says, or as the pass has come to know since. */
export function handOf(step: TurnStep, thread: Thread | null | undefined): Hand | null {
  if (step.hand || !thread?.positive) return step.hand;
  if (step.amount > 0) return thread.positive;
  return thread.positive === "clockwise" ? "counter-clockwise" : "clockwise";
}

/** The line under the amount: which way the hand goes, or where it is measured. */
export function underAmount(step: TurnStep, hand: Hand | null = step.hand): string {
  if (hand) return t(`hands.turn.${hand}`);
  const papers = step.papers_mm.reduce((sum, mm) => sum + mm, 0);
  if (step.papers_mm.length > 0 && Math.abs(papers - Math.abs(step.amount)) > 0.015)
    return t("hands.papers.change", { amount: showLength(Math.abs(step.amount)) });
  return tCode(`hands.at.${step.adjuster}.${sign(step.amount)}`, "");
}

/** Why, in one line. */
export function whyLine(step: Step): string {
  const reading = meant(step);
  if (step.kind === "read") {
    if (!step.read) return capital(t("hands.why.never"));
    const said = t("hands.why.reckoned", { value: showReading(reading, step.before), spread: showSpread(reading, step.before_sd) });
    return capital(said);
  }
  const [before, target, end] = [step.before ?? NaN, step.target ?? NaN, step.at_the_end ?? NaN];
  const gives = Math.abs(end - target) > Math.abs(before - target);
  return t(gives ? "hands.why.gives_way" : "hands.why.off", {
    reading: capital(tReading(reading)),
    before: showReading(reading, step.before),
    target: showReading(reading, step.target),
  });
}

/** What to look for afterwards, a line each. */
export function thenLines(step: TurnStep): string[] {
  const lines: string[] = [];
  const reading = meant(step);
  const value = showReading(reading, step.after);
  if (step.reading === "hammer-height" && step.goal !== null)
    lines.push(t("hands.then.crown", { value: showReading("hammer-height", step.goal) }));
  else lines.push(t("hands.then.value", { reading: capital(tReading(reading)), value }));
  const later = Math.abs((step.at_the_end ?? NaN) - (step.after ?? NaN)) > 0.25 * (step.tolerance ?? 0);
  if (later) lines.push(t("hands.then.later", { value: showReading(reading, step.at_the_end) }));
  return lines;
}

/** What the gauge should show; empty where nothing tells. */
export function expectation(step: Step): string {
  if (!step.read) return "";
  const value = step.kind === "read" ? step.goal : step.before;
  if (value === null) return "";
  if (step.before_sd === null || step.reading === "hammer-height")
    return t("hands.expect.plain", { value: showReading(step.reading, value) });
  return t("hands.expect", { value: showReading(step.reading, value), spread: showSpread(step.reading, step.before_sd) });
}

/** Moves after which the key is pressed slowly before it is played: where a hammer could block. */
const slowly = new Set(["let-off-button", "drop-screw", "back-check", "jack-button", "lever-height-button", "capstan"]);
export const pressSlowly = (adjuster: string): boolean => slowly.has(adjuster);

/** The amount a step of the adjuster further; never nothing, which is not a move. */
export function stepped(amount: number, by: number, least: number): number {
  const count = Math.round(amount / least) + by;
  return (count === 0 ? by : count) * least;
}
