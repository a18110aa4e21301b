import { useId } from "preact/hooks";
import type { ComponentChildren, Ref } from "preact";

interface Common {
  label: string;
  value: string;
  onInput: (text: string) => void;
  /** Enter was pressed, by hand or by a gauge. */
  onEnter?: ((text: string) => void) | undefined;
  hint?: string | undefined;
  /** What is wrong with what stands there. */
  wrong?: string | null | undefined;
  inputRef?: Ref<HTMLInputElement> | undefined;
  autofocus?: boolean | undefined;
}
interface NumberProps extends Common {
  unit: string;
  /** none: the view has a keypad of its own. */
  keyboard?: "decimal" | "none" | undefined;
  size?: "usual" | "huge" | undefined;
}

interface AroundProps {
  id: string;
  label: string;
  hint?: string | undefined;
  wrong?: string | null | undefined;
  children: ComponentChildren;
}
function Around({ id, label, hint, wrong, children }: AroundProps) {
  return (
    <div class="field">
      <label for={id}>{label}</label>
      {children}
      {hint && (
        <p class="field-hint" id={`${id}-hint`}>
          {hint}
        </p>
      )}
      <p class="field-wrong" id={`${id}-wrong`} role="alert">
        {wrong || null}
      </p>
    </div>
  );
}

function described(id: string, hint?: string, wrong?: string | null): string | undefined {
  return [hint ? `${id}-hint` : "", wrong ? `${id}-wrong` : ""].filter(Boolean).join(" ") || undefined;
}

/** A number as a hand or a gauge types it; text, so that commas, fractions and units may stand in it. */
export function NumberField({
  label,
  value,
  onInput,
  onEnter,
  hint,
  wrong,
  inputRef,
  autofocus,
  unit,
  keyboard = "decimal",
  size = "usual",
}: NumberProps) {
  const id = useId();
  return (
    <Around id={id} label={label} hint={hint} wrong={wrong}>
      <div class={`number-field number-${size}`}>
        <input
          id={id}
          ref={inputRef ?? null}
          type="text"
          inputMode={keyboard}
          enterKeyHint="done"
          autoComplete="off"
          spellcheck={false}
          autofocus={autofocus}
          value={value}
          aria-invalid={wrong ? true : undefined}
          aria-describedby={described(id, hint, wrong)}
          onInput={(event) => onInput(event.currentTarget.value)}
          onKeyDown={keyDown(onEnter)}
        />
        <span class="number-unit">{unit}</span>
      </div>
    </Around>
  );
}

/** Enter hands the value on and does nothing else. */
const keyDown = (onEnter: Common["onEnter"]) => (event: KeyboardEvent & { currentTarget: HTMLInputElement }) => {
  if (event.key !== "Enter" || !onEnter) return;
  event.preventDefault();
  onEnter(event.currentTarget.value);
};

export function TextField({ label, value, onInput, onEnter, hint, wrong, inputRef, autofocus }: Common) {
  const id = useId();
  return (
    <Around id={id} label={label} hint={hint} wrong={wrong}>
      <input
        id={id}
        ref={inputRef ?? null}
        class="text-field"
        type="text"
        autoComplete="off"
        autofocus={autofocus}
        value={value}
        aria-invalid={wrong ? true : undefined}
        aria-describedby={described(id, hint, wrong)}
        onInput={(event) => onInput(event.currentTarget.value)}
        onKeyDown={keyDown(onEnter)}
      />
    </Around>
  );
}
