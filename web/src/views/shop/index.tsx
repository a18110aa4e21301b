// What holds for whoever works here, whichever piano: letterhead, paper, when to come back, lists, backups.
import { useEffect } from "preact/hooks";
import { post } from "../../api/client.ts";
import type { Shop } from "../../api/shop_types.ts";
import type { Problem } from "../../api/types.ts";
import { ProblemNotice } from "../../controls/index.ts";
import { loadShop, shop, shopProblem } from "../../state/shop.ts";
import { t, tCode } from "../../words/index.ts";
import { SettingLine } from "../settings/line.tsx";
import { BackupBox } from "./backup.tsx";
import { LogoBox } from "./logo.tsx";
import "../settings/settings.css";
import "./shop.css";

async function save(name: string, value: string): Promise<Problem | null> {
  const answer = await post<Shop>("/api/shop", { name, value });
  if (!answer.ok) return answer.problem;
  shop.value = answer.value;
  return null;
}

/** Written in several lines. */
const of_lines = new Set(["letterhead-lines", "check-list-transport", "check-list-new-hammers"]);

export function ShopView() {
  useEffect(() => void loadShop(), []);
  const now = shop.value;
  const groups = [...new Set(now?.settings.map((one) => one.group))];
  return (
    <div class="stack">
      <h1>{t("view.shop")}</h1>
      <p class="quiet">{t("shop.what")}</p>
      {shopProblem.value && !now && <ProblemNotice problem={shopProblem.value} />}
      <div class="shop-groups">
        {groups.map((group) => (
          <section key={group} class="card">
            <h2>{tCode(`shop.group.${group}`, group)}</h2>
            <ul class="plain-list">
              {now?.settings
                .filter((one) => one.group === group)
                .map((one) => (
                  <SettingLine key={one.name} setting={one} save={save} lines={of_lines.has(one.name)} emptyAllowed heading="h3" />
                ))}
            </ul>
            {group === "letterhead" && <LogoBox />}
            {group === "backup" && <BackupBox />}
          </section>
        ))}
      </div>
    </div>
  );
}
