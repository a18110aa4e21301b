// Where the entries are: on the piano's machine, or still in this browser.
import { useState } from "preact/hooks";
import { Button, Sheet } from "../controls/index.ts";
import { sendNow } from "../state/entering.ts";
import { link, refusedEntries, waiting } from "../state/link.ts";
import { plural, t } from "../words/index.ts";

type Shown = "live" | "waiting" | "down" | "starting" | "refused";

const shapes: Record<Shown, preact.JSX.Element> = {
  live: <path d="M3 9l4 4 8-9" />,
  waiting: <path d="M4 3h10M4 15h10M5 3c0 6 8 6 8 12M13 3c0 6-8 6-8 12" />,
  starting: <path d="M9 3v6l4 2" />,
  down: <path d="M4 4l10 10M14 4L4 14" />,
  refused: <path d="M9 3v7m0 3v2" />,
};

function shownNow(): Shown {
  if (refusedEntries.value.length > 0) return "refused";
  if (waiting.value > 0) return "waiting";
  return link.value === "live" ? "live" : link.value;
}

export function LinkState() {
  const [open, setOpen] = useState(false);
  const shown = shownNow();
  const text =
    shown === "refused"
      ? plural("link.refused", refusedEntries.value.length)
      : shown === "waiting"
        ? `${plural("link.waiting", waiting.value)}${link.value === "down" ? ` · ${t("link.down")}` : ""}`
        : t(`link.${shown}`);
  return (
    <>
      <button
        type="button"
        class={`shell-link shell-link-${shown}`}
        aria-haspopup="dialog"
        onClick={() => setOpen(true)}
      >
        <svg
          width="18"
          height="18"
          viewBox="0 0 18 18"
          aria-hidden="true"
          fill="none"
          stroke="currentColor"
          stroke-width="2"
        >
          {shapes[shown]}
        </svg>
        <span role="status">{text}</span>
      </button>
      {open && (
        <Sheet title={t("link.title")} onClose={() => setOpen(false)}>
          <div class="stack">
            {waiting.value > 0 && <p>{plural("link.waiting.long", waiting.value)}</p>}
            {!(waiting.value > 0 && link.value === "live") && <p>{t(`link.${link.value}.long`)}</p>}
            {waiting.value > 0 && (
              <Button kind="main" onPress={sendNow}>
                {t("do.again")}
              </Button>
            )}
          </div>
        </Sheet>
      )}
    </>
  );
}
