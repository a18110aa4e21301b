// Whether the store is backed up, and what became of the last try.
import { useEffect, useState } from "preact/hooks";
import type { Backups } from "../../api/bundle_types.ts";
import { get } from "../../api/client.ts";
import { datesAs } from "../../state/choices.ts";
import { plural, t } from "../../words/index.ts";

export function BackupState() {
  const [told, setTold] = useState<Backups | null>(null);
  useEffect(() => {
    let here = true;
    void get<Backups>("/api/backups").then((answer) => {
      if (here && answer.ok) setTold(answer.value);
    });
    return () => {
      here = false;
    };
  }, []);
  if (!told) return null;
  const time = new Intl.DateTimeFormat(datesAs.value, { dateStyle: "medium", timeStyle: "short" });
  const last = told.backups[0];
  return (
    <section class="stack" aria-labelledby="studio-backup">
      <h2 id="studio-backup">{t("studio.backup")}</h2>
      <p>
        {last
          ? plural("studio.backup.kept", told.backups.length, { when: time.format(new Date(last.made_at)) })
          : t(told.folder ? "studio.backup.none" : "studio.backup.off")}
      </p>
      {told.folder && <p class="quiet pianos-folder">{t("studio.backup.where", { folder: told.folder })}</p>}
    </section>
  );
}
