// The chosen note in words and numbers: for the eye beside the lanes, and for the ear.
import type { Strip } from "../api/types.ts";
import { notePrinted } from "../quantities/notes.ts";
import { showAmount, showReading, showSpread } from "../quantities/show.ts";
import { chosenKey, waitingReadings } from "../state/piano.ts";
import { t, tAdjuster, tDirection, tReading } from "../words/index.ts";
import { lane, type LaneName, type Series } from "./lanes.ts";

/** "dip read 10.05 mm (doubtful), wanted 10.00 mm ± 0.20 mm" */
export function seriesWords(series: Series, at: number, key: number): string {
  const [read, mean, sd, target] = [series.read[at], series.mean[at], series.sd[at], series.target[at]];
  const parts: string[] = [];
  if (typeof read === "number") {
    const value = showReading(series.code, read);
    parts.push(
      waitingReadings.value.has(`${series.code}@${key}`)
        ? t("strip.read_waiting", { value })
        : series.doubted[at]
          ? t("strip.read_doubtful", { value })
          : t("strip.read", { value }),
    );
  } else if (typeof mean === "number") {
    parts.push(
      t("strip.reckoned", { value: showReading(series.code, mean), spread: showSpread(series.code, sd ?? null) }),
    );
  }
  if (typeof target === "number") parts.push(t("strip.wanted", { value: showReading(series.code, target) }));
  return parts.length === 0 ? "" : `${tReading(series.code)} ${parts.join(", ")}`;
}

export function moveWords(strip: Strip, key: number): string[] {
  return strip.moves
    .filter((move) => move.key === key)
    .map(
      (move) =>
        `${tAdjuster(move.adjuster)}: ${tDirection(move.adjuster, move.amount ?? 0)} ${showAmount(move.adjuster, move.amount)}`,
    );
}

export function said(strip: Strip, key: number, shown: LaneName): string {
  const at = key - strip.first;
  const note = notePrinted(strip.notes[at] ?? "");
  const list = lane(strip, shown)
    .map((series) => seriesWords(series, at, key))
    .filter(Boolean);
  return [note, ...(list.length > 0 ? list : [t("strip.nothing")]), ...moveWords(strip, key)].join("; ");
}

export function Readout({ strip, shown }: { strip: Strip; shown: LaneName }) {
  const key = chosenKey.value;
  const at = key - strip.first;
  const list = lane(strip, shown)
    .map((series) => seriesWords(series, at, key))
    .filter(Boolean);
  return (
    <p class="strip-readout">
      <strong>{notePrinted(strip.notes[at] ?? "")}</strong> {list.length > 0 ? list.join(" · ") : t("strip.nothing")}
    </p>
  );
}
