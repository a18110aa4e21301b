// Days of the calendar, as the server says them ("2026-11-26"), and how they are shown: the day before the month.
import { datesAs } from "../state/choices.ts";

/** Noon of that day where the browser is, so that no zone or summer time makes another day of it. An instant
 * ("2026-11-26T07:00:01Z") is taken as its day here. */
export function dayOf(iso: string): Date {
  const found = /^(\d{4})-(\d{2})-(\d{2})$/.exec(iso);
  return found ? new Date(Number(found[1]), Number(found[2]) - 1, Number(found[3]), 12) : new Date(iso);
}
export function addDays(day: Date, days: number): Date {
  return new Date(day.getFullYear(), day.getMonth(), day.getDate() + Math.round(days), 12);
}
/** "26 November 2026"; short: "26 Nov 2026". */
export function showDay(day: Date | string, style: "long" | "medium" = "long"): string {
  const date = typeof day === "string" ? dayOf(day) : day;
  return new Intl.DateTimeFormat(datesAs.value, { dateStyle: style }).format(date);
}
/** "November 2026"; short: "Nov 26" with its year in two figures. */
export function showMonth(day: Date | string, style: "long" | "short" = "long"): string {
  const date = typeof day === "string" ? dayOf(day) : day;
  const format: Intl.DateTimeFormatOptions =
    style === "long" ? { month: "long", year: "numeric" } : { month: "short", year: "2-digit" };
  return new Intl.DateTimeFormat(datesAs.value, format).format(date);
}
/** 1…12: "November". */
export function monthName(month: number): string {
  return new Intl.DateTimeFormat(datesAs.value, { month: "long" }).format(new Date(2026, month - 1, 15, 12));
}
/** Whole days from one day to another. */
export function daysBetween(from: string, to: string): number {
  return Math.round((dayOf(to).getTime() - dayOf(from).getTime()) / 86_400_000);
}
