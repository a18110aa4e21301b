// The lane shown, as a table: every note's numbers for whoever cannot or would not read the drawing.
import type { Strip } from "../api/types.ts";
import { Sheet } from "../controls/index.ts";
import { notePrinted } from "../quantities/notes.ts";
import { showReading, showSpread } from "../quantities/show.ts";
import { chosenKey } from "../state/piano.ts";
import { t, tReading } from "../words/index.ts";
import { lane, type LaneName } from "./lanes.ts";
import { moveWords } from "./strip_words.tsx";

export function StripTable({ strip, shown, onClose }: { strip: Strip; shown: LaneName; onClose: () => void }) {
  const list = lane(strip, shown);
  return (
    <Sheet title={t(`strip.lane.${shown}`)} onClose={onClose}>
      <div class="strip-table" tabIndex={0} role="region" aria-label={t(`strip.lane.${shown}`)}>
        <table>
          <thead>
            <tr>
              <th scope="col">{t("strip.note")}</th>
              {list.flatMap((series) => [
                <th scope="col" key={`${series.code}r`}>
                  {tReading(series.code)}
                </th>,
                <th scope="col" key={`${series.code}m`}>
                  {t("strip.column.reckoned")}
                </th>,
                <th scope="col" key={`${series.code}t`}>
                  {t("strip.column.wanted")}
                </th>,
              ])}
              <th scope="col">{t("strip.column.moves")}</th>
            </tr>
          </thead>
          <tbody>
            {strip.notes.map((note, at) => (
              <tr key={note} aria-current={chosenKey.value === at + strip.first ? "true" : undefined}>
                <th scope="row">{notePrinted(note)}</th>
                {list.flatMap((series) => [
                  <td key={`${series.code}r`}>
                    {showReading(series.code, series.read[at] ?? null)}
                    {series.doubted[at] ? " ?" : ""}
                  </td>,
                  <td key={`${series.code}m`}>
                    {typeof series.mean[at] === "number"
                      ? `${showReading(series.code, series.mean[at] ?? null)} ${showSpread(series.code, series.sd[at] ?? null)}`
                      : "–"}
                  </td>,
                  <td key={`${series.code}t`}>{showReading(series.code, series.target[at] ?? null)}</td>,
                ])}
                <td>{moveWords(strip, at + strip.first).join("; ")}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </Sheet>
  );
}
