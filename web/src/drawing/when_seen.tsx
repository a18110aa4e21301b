// What is scrolled out of sight is not drawn anew until it is seen again: a drag costs only what shows.
import type { ComponentChildren } from "preact";
import { useEffect, useRef, useState } from "preact/hooks";

export function WhenSeen({ children, class: name }: { children: ComponentChildren; class?: string }) {
  const box = useRef<HTMLDivElement>(null);
  const [seen, setSeen] = useState(true);
  const last = useRef(children);
  if (seen) last.current = children;
  useEffect(() => {
    const element = box.current;
    if (!element || typeof IntersectionObserver === "undefined") return;
    const watch = new IntersectionObserver((entries) => setSeen(entries[entries.length - 1]!.isIntersecting), {
      rootMargin: "40px",
    });
    watch.observe(element);
    return () => watch.disconnect();
  }, []);
  return <div ref={box} class={name}>{last.current}</div>;
}
