// When the store was copied last, and another copy now.
import { useState } from "preact/hooks";
import { post } from "../../api/client.ts";
import type { Problem } from "../../api/types.ts";
import { Button, ProblemNotice } from "../../controls/index.ts";
import { datesAs } from "../../state/choices.ts";
import { loadShop, shop, shopSetting } from "../../state/shop.ts";
import { plural, t } from "../../words/index.ts";

export function BackupBox() {
  const [busy, setBusy] = useState(false);
  const [problem, setProblem] = useState<Problem | null>(null);
  const backup = shop.value?.backup ?? null;
  const make = async () => {
    setBusy(true);
    const answer = await post<unknown>("/api/backups", {});
    setProblem(answer.ok ? null : answer.problem);
    if (answer.ok) await loadShop();
    setBusy(false);
  };
  const time = new Intl.DateTimeFormat(datesAs.value, { dateStyle: "medium", timeStyle: "short" });
  return (
    <div class="shop-backup" aria-live="polite">
      <p>
        {backup?.last_at
          ? plural("studio.backup.kept", backup.kept, { when: time.format(new Date(backup.last_at)) })
          : t(shopSetting("backup-folder") === "none" ? "studio.backup.off" : "studio.backup.none")}
      </p>
      {backup?.folder && <p class="quiet">{t("studio.backup.where", { folder: backup.folder })}</p>}
      {problem && <ProblemNotice problem={problem} />}
      <Button onPress={() => void make()} disabled={busy}>
        {t(busy ? "do.making" : "shop.backup.now")}
      </Button>
    </div>
  );
}
