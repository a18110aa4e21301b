// What the technician writes on the page; kept in this browser, printed as text.
import { useEffect, useId, useState } from "preact/hooks";

interface Props {
  /** Where it is kept. */
  name: string;
  label: string;
  hint: string;
  /** Printed where nothing was written; empty: nothing is printed. */
  otherwise: string;
}

function kept(name: string): string {
  try {
    return localStorage.getItem(name) ?? "";
  } catch {
    return "";
  }
}

export function OwnWords({ name, label, hint, otherwise }: Props) {
  const id = useId();
  const [text, setText] = useState(() => kept(name));
  useEffect(() => setText(kept(name)), [name]);
  const write = (to: string) => {
    setText(to);
    try {
      localStorage.setItem(name, to);
    } catch {
      // No storage: it lasts as long as the page.
    }
  };
  return (
    <>
      <div class="handover-own field">
        <label for={id}>{label}</label>
        <textarea
          id={id}
          class="text-field"
          rows={2}
          value={text}
          aria-describedby={`${id}-hint`}
          onInput={(event) => write(event.currentTarget.value)}
        />
        <p class="field-hint" id={`${id}-hint`}>
          {hint}
        </p>
      </div>
      {(text || otherwise) && <p class="handover-paper">{text || otherwise}</p>}
    </>
  );
}
