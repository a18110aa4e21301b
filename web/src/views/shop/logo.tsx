// The logo of the letterhead: seen, chosen from a file, taken away.
import { useRef, useState } from "preact/hooks";
import { put, remove } from "../../api/client.ts";
import type { Shop } from "../../api/shop_types.ts";
import type { Outcome, Problem } from "../../api/types.ts";
import { Button, ProblemNotice } from "../../controls/index.ts";
import { logoTurn, shop } from "../../state/shop.ts";
import { showNumber, thin } from "../../quantities/show.ts";
import { t } from "../../words/index.ts";

export const most_logo_bytes = 1024 * 1024;
const media_types = ["image/png", "image/jpeg"];

/** What is wrong with a file before it is sent; null: nothing that shows from outside. */
export function wrongLogo(type: string, bytes: number): Problem | null {
  const kept = t("shop.logo.kept");
  if (!media_types.includes(type)) return { happened: t("shop.logo.wrong_kind"), kept, todo: t("shop.logo.wrong_kind.todo") };
  if (bytes > most_logo_bytes) return { happened: t("shop.logo.large"), kept, todo: t("shop.logo.large.todo") };
  return null;
}

export function LogoBox() {
  const file = useRef<HTMLInputElement>(null);
  const [problem, setProblem] = useState<Problem | null>(null);
  const logo = shop.value?.logo ?? null;
  const send = async (chosen: Blob) => {
    const wrong = wrongLogo(chosen.type, chosen.size);
    if (wrong) {
      setProblem(wrong);
      return;
    }
    take(await put<Shop>("/api/shop/logo", chosen));
  };
  const take = (answer: Outcome<Shop>) => {
    setProblem(answer.ok ? null : answer.problem);
    if (!answer.ok) return;
    logoTurn.value += 1;
    shop.value = answer.value;
  };
  return (
    <div class="shop-logo">
      <h3>{t("shop.logo")}</h3>
      {logo ? (
        <p class="shop-logo-shown">
          <img src={`/api/shop/logo?turn=${logoTurn.value}`} alt={t("shop.logo.shown")} />
          <span class="quiet">{`${showNumber(logo.bytes / 1024, 0)}${thin}kB`}</span>
        </p>
      ) : (
        <p class="quiet">{t("shop.logo.none")}</p>
      )}
      <p class="quiet">{t("shop.logo.what")}</p>
      {problem && <ProblemNotice problem={problem} />}
      <input
        ref={file}
        type="file"
        accept={media_types.join(",")}
        hidden
        aria-label={t("shop.logo.choose")}
        onChange={(event) => {
          const chosen = event.currentTarget.files?.[0];
          event.currentTarget.value = "";
          if (chosen) void send(chosen);
        }}
      />
      <div class="row">
        <Button onPress={() => file.current?.click()}>{t(logo ? "shop.logo.other" : "shop.logo.choose")}</Button>
        {logo && <Button onPress={() => void remove<Shop>("/api/shop/logo").then(take)}>{t("shop.logo.none_more")}</Button>}
      </div>
    </div>
  );
}
