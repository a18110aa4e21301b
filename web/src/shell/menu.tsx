// How things are shown: unit, language, light or dark; kept in this browser.
import { effect } from "@preact/signals";
import { useState } from "preact/hooks";
import { Choice, Sheet } from "../controls/index.ts";
import { language, theme, unit } from "../state/choices.ts";
import { t } from "../words/index.ts";

/** Light or dark as chosen, or as the system says. */
export function followTheme(): void {
  const dark = matchMedia("(prefers-color-scheme: dark)");
  const show = () => {
    const chosen = theme.peek();
    document.documentElement.dataset["theme"] = chosen === "system" ? (dark.matches ? "dark" : "light") : chosen;
  };
  dark.addEventListener("change", show);
  effect(() => {
    void theme.value;
    show();
  });
}

export function Menu() {
  const [open, setOpen] = useState(false);
  return (
    <>
      <button
        type="button"
        class="shell-link"
        aria-haspopup="dialog"
        aria-label={t("app.menu")}
        onClick={() => setOpen(true)}
      >
        <svg
          width="24"
          height="24"
          viewBox="0 0 24 24"
          aria-hidden="true"
          fill="none"
          stroke="currentColor"
          stroke-width="2"
        >
          <path d="M3 7h9m6 0h3M3 17h3m6 0h9" />
          <circle cx="15" cy="7" r="3" />
          <circle cx="9" cy="17" r="3" />
        </svg>
      </button>
      {open && (
        <Sheet title={t("app.menu")} onClose={() => setOpen(false)}>
          <div class="stack">
            <Choice
              label={t("choice.unit")}
              value={unit.value}
              options={(["mm", "in"] as const).map((value) => ({ value, label: t(`choice.unit.${value}`) }))}
              onChange={(value) => (unit.value = value)}
            />
            <Choice
              label={t("choice.theme")}
              value={theme.value}
              options={(["system", "light", "dark"] as const).map((value) => ({
                value,
                label: t(`choice.theme.${value}`),
              }))}
              onChange={(value) => (theme.value = value)}
            />
            <Choice
              label={t("choice.language")}
              value={language.value}
              options={[
                { value: "en", label: "English" },
                { value: "de", label: "Deutsch" },
              ]}
              onChange={(value) => (language.value = value)}
            />
            <p>
              <a class="shell-home" href="#/shop" onClick={() => setOpen(false)}>
                {t("view.shop")}
              </a>
            </p>
            <p>
              <a class="shell-home" href="#/devices" onClick={() => setOpen(false)}>
                {t("view.devices")}
              </a>
            </p>
          </div>
        </Sheet>
      )}
    </>
  );
}
