// How wide an element is, in CSS pixels, so that a drawing's words keep their size.
import { useLayoutEffect, useState } from "preact/hooks";

export function useWidth(ref: { readonly current: Element | null }, first: number): number {
  const [width, setWidth] = useState(first);
  useLayoutEffect(() => {
    const element = ref.current;
    if (!element) return;
    const take = () => {
      const now = Math.round(element.clientWidth);
      if (now > 0) setWidth(now);
    };
    take();
    if (typeof ResizeObserver === "undefined") return;
    const watch = new ResizeObserver(take);
    watch.observe(element);
    return () => watch.disconnect();
  }, []);
  return width;
}
