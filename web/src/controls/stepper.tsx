// A value moved a step at a time by two large buttons.
interface Props {
  label: string;
  /** As shown. */
  value: string;
  less: string;
  more: string;
  onLess: () => void;
  onMore: () => void;
  lessDisabled?: boolean | undefined;
  moreDisabled?: boolean | undefined;
}

export function Stepper({ label, value, less, more, onLess, onMore, lessDisabled, moreDisabled }: Props) {
  return (
    <div class="stepper" role="group" aria-label={label}>
      <button type="button" class="stepper-button" aria-label={less} disabled={lessDisabled} onClick={onLess}>
        −
      </button>
      <output class="stepper-value" aria-live="polite">
        {value}
      </output>
      <button type="button" class="stepper-button" aria-label={more} disabled={moreDisabled} onClick={onMore}>
        +
      </button>
    </div>
  );
}
