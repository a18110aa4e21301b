// What must hold of every view, whoever made it.
import { readFile } from "node:fs/promises";
import { createRequire } from "node:module";
import type { Page } from "playwright-core";
import { expect } from "./harness.ts";
import { repository } from "./server.ts";

const least_side = 48; // CSS px

let axeSource = "";
interface AxeResult {
  violations: { id: string; help: string; nodes: { html: string; failureSummary?: string }[] }[];
}

/** No violation of axe-core's own set of rules (WCAG 2.x A and AA, and best practices). */
export async function axe(page: Page, where: string): Promise<void> {
  if (axeSource === "") {
    const from = createRequire(`${repository}/web/package.json`);
    axeSource = await readFile(from.resolve("axe-core/axe.min.js"), "utf8");
  }
  // Straight into the page's world: a script element would be held back by the page's own policy.
  await page.evaluate(axeSource);
  const result = (await page.evaluate("axe.run()")) as AxeResult;
  const told = result.violations.map(
    (v) => `${v.id}: ${v.help}\n      ${v.nodes.slice(0, 3).map((n) => `${n.html.slice(0, 160)}\n        ${(n.failureSummary ?? "").replace(/\s+/g, " ").slice(0, 260)}`).join("\n      ")}`,
  );
  expect(told.length === 0, `axe-core at ${where}:\n    ${told.join("\n    ")}`);
}

/** Everything a finger presses is 48 px either way; a word within a line of text is held to its line. */
export async function largeTargets(page: Page, where: string): Promise<void> {
  const small = await page.evaluate((least) => {
    const list: string[] = [];
    for (const element of document.querySelectorAll<HTMLElement>(
      "button, a[href], input, select, textarea, summary, [role=button], [role=slider], [role=tab], [role=option][tabindex]",
    )) {
      const box = element.getBoundingClientRect();
      const style = getComputedStyle(element);
      if (box.width === 0 || box.height === 0 || !element.checkVisibility({ visibilityProperty: true })) continue;
      // Waits above the window until it has the focus.
      if (box.bottom <= 0 || element.closest(".skip")) continue;
      if (style.display === "inline" && element.closest("p, li, td, dd")) continue;
      // A box or dot with a label that is pressed with it.
      const label = element instanceof HTMLInputElement ? element.labels?.[0]?.getBoundingClientRect() : undefined;
      const wide = Math.max(box.width, label && element.matches("[type=checkbox],[type=radio]") ? label.width : 0);
      const high = Math.max(box.height, label && element.matches("[type=checkbox],[type=radio]") ? label.height : 0);
      if (wide < least - 0.5 || high < least - 0.5)
        list.push(`${element.outerHTML.slice(0, 110)} is ${wide.toFixed(0)} × ${high.toFixed(0)}`);
    }
    return list;
  }, least_side);
  expect(small.length === 0, `Smaller than ${least_side} px at ${where}:\n    ${small.slice(0, 8).join("\n    ")}`);
}

/** Nothing scrolls sideways but the strip, and no text is cut off by its box. */
export async function fits(page: Page, where: string): Promise<void> {
  const found = await page.evaluate(() => {
    const list: string[] = [];
    const wide = document.documentElement.clientWidth;
    if (document.documentElement.scrollWidth > wide + 1) list.push(`the page is ${document.documentElement.scrollWidth} px wide in ${wide}`);
    for (const element of document.querySelectorAll<HTMLElement>("body *")) {
      if (element.closest(".strip, svg, .for-ears, .skip")) continue;
      const style = getComputedStyle(element);
      if (!element.checkVisibility({ visibilityProperty: true })) continue;
      const box = element.getBoundingClientRect();
      // One pixel is for those who listen.
      if (box.width <= 1 || box.height <= 1) continue;
      if (box.right > wide + 1 && style.position !== "fixed") list.push(`${element.outerHTML.slice(0, 90)} ends at ${box.right.toFixed(0)} of ${wide}`);
      const scrolls = style.overflowX === "auto" || style.overflowX === "scroll";
      if (scrolls && element.scrollWidth > element.clientWidth + 1) list.push(`${element.outerHTML.slice(0, 90)} scrolls sideways`);
      const cuts = style.overflowX === "hidden" || style.overflowX === "clip";
      if (cuts && style.textOverflow !== "ellipsis" && element.scrollWidth > element.clientWidth + 1)
        list.push(`${element.outerHTML.slice(0, 90)} is cut off: ${element.scrollWidth} px in ${element.clientWidth}`);
    }
    return list;
  });
  expect(found.length === 0, `Does not fit at ${where}:\n    ${found.slice(0, 8).join("\n    ")}`);
}

/** Tabs through the page once: every control is reached, and each shows that it has the focus. Returns how many. */
export async function tabThrough(page: Page, where: string): Promise<number> {
  await page.evaluate(() => {
    (document.activeElement as HTMLElement | null)?.blur();
    Object.assign(window, { reached: new Set<Element>() });
  });
  const most = 1500;
  let first = "";
  let count = 0;
  for (let i = 0; i < most; ++i) {
    await page.keyboard.press("Tab");
    const at = await page.evaluate(() => {
      const element = document.activeElement as HTMLElement | null;
      if (!element || element === document.body) return null;
      const { reached } = window as unknown as { reached: Set<Element> };
      const again = reached.has(element);
      reached.add(element);
      const ringed = (s: CSSStyleDeclaration) => s.outlineStyle !== "none" && parseFloat(s.outlineWidth) >= 2;
      // The ring of a drawn thing may be drawn by itself.
      const ring = ringed(getComputedStyle(element)) || [...element.querySelectorAll("*")].some((part) => part.matches("[data-focus-ring]") || ringed(getComputedStyle(part)));
      const box = element.getBoundingClientRect();
      const inWindow = box.bottom > 0 && box.top < innerHeight && box.right > 0 && box.left < innerWidth;
      return { again, ring, inWindow, element: element.outerHTML.slice(0, 110) };
    });
    // Past the last control the browser itself has the keyboard.
    if (!at) continue;
    if (at.again) break;
    if (first === "") first = at.element;
    expect(at.ring, `No visible focus at ${where}: ${at.element}`);
    expect(at.inWindow, `The focus is outside the window at ${where}: ${at.element}`);
    ++count;
  }
  const missed = await page.evaluate(() => {
    const { reached } = window as unknown as { reached: Set<Element> };
    const list: string[] = [];
    for (const element of document.querySelectorAll<HTMLElement>("button, a[href], input, select, textarea, summary, [tabindex]")) {
      const box = element.getBoundingClientRect();
      const hidden = box.width === 0 || box.height === 0 || !element.checkVisibility({ visibilityProperty: true });
      const disabled = "disabled" in element && (element as HTMLButtonElement).disabled;
      if (hidden || disabled || element.tabIndex < 0 || element.closest("[inert]") || reached.has(element)) continue;
      // Radio buttons of one name are one stop.
      if (element.matches("[type=radio]")) continue;
      list.push(element.outerHTML.slice(0, 110));
    }
    return list;
  });
  expect(missed.length === 0, `Not reached by Tab at ${where}:\n    ${missed.slice(0, 8).join("\n    ")}`);
  return count;
}
