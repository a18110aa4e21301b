import type { ComponentChildren } from "preact";

interface Props {
  children: ComponentChildren;
  onPress: () => void;
  /** main: the one thing to do here; huge: pressed without looking. */
  kind?: "main" | "plain" | "quiet" | "stop" | undefined;
  size?: "usual" | "huge" | undefined;
  /** Where the words shown are not enough on their own. */
  label?: string | undefined;
  disabled?: boolean | undefined;
  pressed?: boolean | undefined;
  class?: string | undefined;
  id?: string | undefined;
}

export function Button({
  children,
  onPress,
  kind = "plain",
  size = "usual",
  label,
  disabled,
  pressed,
  id,
  ...rest
}: Props) {
  return (
    <button
      type="button"
      id={id}
      class={`button button-${kind} button-${size} ${rest.class ?? ""}`}
      aria-label={label}
      aria-pressed={pressed}
      disabled={disabled}
      onClick={onPress}
    >
      {children}
    </button>
  );
}
