// A page-turn pedal is a keyboard with two keys: PageDown and PageUp, or arrows.
import { useEffect, useRef } from "preact/hooks";

const ahead = new Set(["PageDown", "ArrowRight", "ArrowDown"]);
const behind = new Set(["PageUp", "ArrowLeft", "ArrowUp"]);

/** Whether the element does something of its own with these keys. */
function keepsKeys(target: EventTarget | null): boolean {
  return (
    target instanceof Element &&
    target.closest("input, textarea, select, dialog, [role=slider], [role=listbox], [data-keeps-arrows]") !== null
  );
}

/** Calls `next` or `back` as the pedal or its keys say, unless a field or the strip has the keys. */
export function usePedal(actions: { next?: () => void; back?: () => void }): void {
  const latest = useRef(actions);
  latest.current = actions;
  useEffect(() => {
    const onKey = (event: KeyboardEvent) => {
      if (event.defaultPrevented || event.altKey || event.ctrlKey || event.metaKey) return;
      const pages = event.key === "PageDown" || event.key === "PageUp";
      if (!pages && keepsKeys(event.target)) return;
      const action = ahead.has(event.key)
        ? latest.current.next
        : behind.has(event.key)
          ? latest.current.back
          : undefined;
      if (!action) return;
      event.preventDefault();
      if (!event.repeat) action();
    };
    addEventListener("keydown", onKey);
    return () => removeEventListener("keydown", onKey);
  }, []);
}
