// A part of a view that is made only when it is opened.
import type { ComponentChildren } from "preact";
import { useState } from "preact/hooks";

export function Folded({ label, children }: { label: string; children: ComponentChildren }) {
  const [open, setOpen] = useState(false);
  return (
    <details class="folded" open={open} onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>
        <h3>{label}</h3>
      </summary>
      {open && <div class="folded-inside">{children}</div>}
    </details>
  );
}
