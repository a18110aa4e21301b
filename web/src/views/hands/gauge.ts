// A gauge types into the step's field without anything being touched first.
import type { RefObject } from "preact";
import { useEffect, useRef } from "preact/hooks";

function isField(target: EventTarget | null): boolean {
  return target instanceof Element && target.closest("input, textarea, select, dialog") !== null;
}

/**
 * The field has the keyboard from the start where that brings up none on the screen; and wherever the
 * keyboard is, a digit that comes goes into it.
 */
export function useGauge(step: object): RefObject<HTMLInputElement | null> {
  const input = useRef<HTMLInputElement>(null);
  useEffect(() => {
    const quiet = matchMedia("(pointer: fine)").matches;
    if (quiet || input.current?.closest(".hands-read")) input.current?.focus({ preventScroll: true });
    const onKey = (event: KeyboardEvent) => {
      if (event.ctrlKey || event.altKey || event.metaKey || isField(event.target)) return;
      if (/^[0-9.,−-]$/.test(event.key)) input.current?.focus({ preventScroll: true });
    };
    addEventListener("keydown", onKey);
    return () => removeEventListener("keydown", onKey);
  }, [step]);
  return input;
}

/** Whether the arrows may act as a pedal's though a field has the keyboard: nothing stands in it. */
export function arrowsAreFree(target: EventTarget | null): boolean {
  return target instanceof HTMLInputElement && target.value === "" && target.closest(".number-field") !== null && target.closest("dialog") === null;
}
