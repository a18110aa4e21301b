// In which language, on which paper, with which lengths a page is made.
import type { ComponentChildren } from "preact";
import { Choice } from "../controls/index.ts";
import { wantShop } from "../state/shop.ts";
import { t } from "../words/index.ts";
import { chosenLanguage, chosenPaper, chosenUnit, pageLanguage, pageUnit, paperSize } from "./choices.ts";

/** `lengths`: whether the page says lengths at all. */
export function PageAs({ lengths = true, children }: { lengths?: boolean; children?: ComponentChildren }) {
  wantShop();
  return (
    <div class="paper-as">
      <Choice
        label={t("paper.language")}
        value={pageLanguage.value}
        options={[
          { value: "en", label: "English" },
          { value: "de", label: "Deutsch" },
        ]}
        onChange={(value) => (chosenLanguage.value = value)}
      />
      <Choice
        label={t("paper.size")}
        value={paperSize.value}
        options={(["a4", "letter"] as const).map((value) => ({ value, label: t(`paper.size.${value}`) }))}
        onChange={(value) => (chosenPaper.value = value)}
      />
      {lengths && (
        <Choice
          label={t("choice.unit")}
          value={pageUnit.value}
          options={(["mm", "in"] as const).map((value) => ({ value, label: t(`choice.unit.${value}`) }))}
          onChange={(value) => (chosenUnit.value = value)}
        />
      )}
      {children}
    </div>
  );
}
