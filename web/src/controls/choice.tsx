// One of a few: a row of buttons, or a list where there are many.
interface Props<T extends string> {
  label: string;
  value: T;
  options: readonly { value: T; label: string }[];
  onChange: (value: T) => void;
  /** list: a select, for more than about five. */
  as?: "row" | "list" | undefined;
  hideLabel?: boolean | undefined;
}

export function Choice<T extends string>({ label, value, options, onChange, as = "row", hideLabel }: Props<T>) {
  if (as === "list") {
    return (
      <label class="choice-list">
        <span class={hideLabel ? "for-ears" : "choice-label"}>{label}</span>
        <select value={value} onChange={(event) => onChange(event.currentTarget.value as T)}>
          {options.map((option) => (
            <option key={option.value} value={option.value} selected={option.value === value}>
              {option.label}
            </option>
          ))}
        </select>
      </label>
    );
  }
  return (
    <fieldset class="choice-row">
      <legend class={hideLabel ? "for-ears" : "choice-label"}>{label}</legend>
      <div class="choice-options">
        {options.map((option) => (
          <button
            key={option.value}
            type="button"
            class="choice-option"
            aria-pressed={option.value === value}
            onClick={() => onChange(option.value)}
          >
            {option.label}
          </button>
        ))}
      </div>
    </fieldset>
  );
}
