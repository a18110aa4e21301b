// A sliver of the keyboard with the note in its middle.
import { keyPlaces } from "../../charts/keyboard.ts";
import { notePrinted } from "../../quantities/notes.ts";
import { t } from "../../words/index.ts";

const around = 7;
export function Sliver({ noteKey }: { noteKey: number }) {
  const places = keyPlaces(Math.max(1, noteKey - around), Math.min(88, noteKey + around));
  const width = Math.max(...places.map((place) => place.left + place.width));
  const drawn = [...places.filter((one) => !one.sharp), ...places.filter((one) => one.sharp)];
  return (
    <svg class="hands-sliver" viewBox={`0 0 ${width} 70`} preserveAspectRatio="xMinYMid meet" role="img" aria-label={t("drawing.keyboard", { note: notePrinted(noteKey) })}>
      {drawn.map((one) => (
        <rect
          key={one.key}
          class={`${one.sharp ? "hands-sharp" : "hands-natural"} ${one.key === noteKey ? "hands-this" : ""}`}
          x={one.left + 0.5}
          y="1"
          width={one.width - 1}
          height={one.sharp ? 42 : 68}
        />
      ))}
      {places
        .filter((one) => one.key === noteKey)
        .map((one) => (
          <circle key="mark" class="hands-mark" cx={one.middle} cy={one.sharp ? 32 : 56} r="6" />
        ))}
    </svg>
  );
}
