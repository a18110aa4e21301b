// How far each reading has got.
import type { ReadNext } from "../../api/types.ts";
import { t, tReading } from "../../words/index.ts";

export function Progress({
  progress,
  code,
  onChoose,
}: {
  progress: ReadNext["progress"];
  code: string;
  onChoose: (code: string) => void;
}) {
  if (progress.length === 0) return null;
  return (
    <section class="readings-progress">
      <h2>{t("readings.progress")}</h2>
      <ul class="plain-list">
        {progress.map((one) => (
          <li key={one.reading}>
            <button
              type="button"
              class="readings-progress-line"
              aria-pressed={one.reading === code}
              onClick={() => onChoose(one.reading)}
            >
              <span>{tReading(one.reading)}</span>
              <progress max={Math.max(1, one.asked)} value={Math.min(one.read, one.asked)} aria-hidden="true" />
              <span class="number">{t("readings.progress.of", { read: one.read, asked: one.asked })}</span>
            </button>
          </li>
        ))}
      </ul>
    </section>
  );
}
