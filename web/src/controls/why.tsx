// The reason, for whoever asks.
import type { ComponentChildren } from "preact";
import { t } from "../words/index.ts";

export function Why({
  children,
  label,
  open,
  onOpen,
}: {
  children: ComponentChildren;
  label?: string | undefined;
  open?: boolean | undefined;
  onOpen?: () => void;
}) {
  return (
    <details
      class="why"
      open={open}
      onToggle={(event) => {
        if (event.currentTarget.open) onOpen?.();
      }}
    >
      <summary>{label ?? t("do.why")}</summary>
      <div class="why-text">{children}</div>
    </details>
  );
}
