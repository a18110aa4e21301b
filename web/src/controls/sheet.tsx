// A dialog over the view; Escape and the button close it, and focus goes back where it was.
import type { ComponentChildren } from "preact";
import { useEffect, useId, useRef } from "preact/hooks";
import { t } from "../words/index.ts";
import { Button } from "./button.tsx";

export function Sheet({
  title,
  onClose,
  children,
}: {
  title: string;
  onClose: () => void;
  children: ComponentChildren;
}) {
  const dialog = useRef<HTMLDialogElement>(null);
  const id = useId();
  useEffect(() => {
    const element = dialog.current;
    const before = document.activeElement;
    if (element && !element.open) element.showModal();
    return () => {
      if (before instanceof HTMLElement && before.isConnected) before.focus();
    };
  }, []);
  return (
    <dialog
      ref={dialog}
      class="sheet"
      aria-labelledby={id}
      onCancel={(event) => {
        event.preventDefault();
        onClose();
      }}
    >
      <div class="sheet-head">
        <h2 id={id}>{title}</h2>
        <Button kind="quiet" onPress={onClose}>
          {t("do.close")}
        </Button>
      </div>
      {children}
    </dialog>
  );
}
