// Whether the store is backed up.
import { useEffect } from "preact/hooks";
import { datesAs } from "../../state/choices.ts";
import { loadShop, shop } from "../../state/shop.ts";
import { t } from "../../words/index.ts";

export function Backups() {
  useEffect(() => void loadShop(), []);
  const backup = shop.value?.backup;
  if (!backup) return null;
  const time = new Intl.DateTimeFormat(datesAs.value, { dateStyle: "medium", timeStyle: "short" });
  return (
    <section class="stack" aria-labelledby="studio-backup">
      <h2 id="studio-backup">{t("studio.backup")}</h2>
      <p>
        {backup.last_at
          ? t("studio.backup.last", { when: time.format(new Date(backup.last_at)), kept: backup.kept })
          : t("studio.backup.none")}
      </p>
      {backup.folder && <p class="quiet pianos-folder">{t("studio.backup.where", { folder: backup.folder })}</p>}
    </section>
  );
}
