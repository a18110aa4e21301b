// The core's reasons in the user's words, from their codes and numbers; null: only the core's English.
import type { Hold, PlaceInOrder, ReasonFacts } from "../../api/plan_types.ts";
import { showDifference, showNumber, showReading, showSpread, thin } from "../../quantities/show.ts";
import { hasWord, plural, t, tAdjuster, tDirection, tEffect, tHow, tReading } from "../../words/index.ts";
import { capital } from "../../words/capital.ts";
import { passName } from "./wording.ts";

export interface Told {
  heading: string;
  text: string;
}

const percent = (share: number) => `${showNumber(100 * Math.min(share, 0.999), share > 0.99 ? 1 : 0)}${thin}%`;

export function holdWords(hold: Pick<Hold, "reason" | "would_settle">): string {
  const key = `hold.${hold.reason}`;
  const why = hasWord(key) ? t(key) : hold.reason;
  return hold.would_settle ? `${why} ${t("hold.settle", { reading: tReading(hold.would_settle) })}` : why;
}

export function orderWords(place: PlaceInOrder): string {
  const parts: string[] = [];
  if (place.spares)
    parts.push(t("order.spares", { pass: passName(place.spares.adjuster), tolerances: showNumber(place.spares.tolerances, 1) }));
  if (place.disturbed_by)
    parts.push(t("order.disturbed", { pass: passName(place.disturbed_by.adjuster), tolerances: showNumber(place.disturbed_by.tolerances, 1) }));
  return parts.length > 0 ? parts.join(" ") : t("order.free");
}

function stands(f: Extract<ReasonFacts, { code: "off" }> | Extract<ReasonFacts, { code: "known" }>): string {
  const parts = [
    t("why.stands", {
      reading: capital(tReading(f.reading)),
      value: showReading(f.reading, f.value),
      spread: showSpread(f.reading, f.sd),
      off: showDifference(f.reading, f.value - f.target),
      target: showReading(f.reading, f.target),
    }),
    t("why.chance", { tolerance: showSpread(f.reading, f.tolerance), chance: percent(f.chance) }),
  ];
  if (f.readings > 0) parts.push(plural("why.read", f.readings));
  else parts.push(t(f.read ? "why.reckoned" : "why.never"));
  return parts.join(" ");
}

export function reasonWords(f: ReasonFacts): Told | null {
  const heading = t(`why.${f.code}` as "why.off");
  switch (f.code) {
    case "off":
    case "known":
      return { heading, text: stands(f) };
    case "gives-way": {
      const sake = f.sake.map(tReading).join(", ");
      return { heading, text: t("why.gives-way.text", { sake: sake || t("why.others") }) };
    }
    case "purpose": {
      const text = tEffect(f.adjuster);
      return text ? { heading, text } : null;
    }
    case "turn-does": {
      const learned =
        f.moves_here > 0
          ? plural("why.learned", f.moves_here)
          : f.moves_elsewhere > 0
            ? plural("why.elsewhere", f.moves_elsewhere)
            : t("why.first_guess");
      const text = t("why.turn-does.text", {
        one: t(`why.one.${f.amount_unit}` as "why.one.turns"),
        direction: tDirection(f.adjuster, 1),
        reading: tReading(f.reading),
        change: showDifference(f.reading, f.change),
        share: percent(f.share_sd),
      });
      return { heading, text: `${text} ${learned}` };
    }
    case "also-moves": {
      const list = f.effects.map((e) => `${tReading(e.reading)} ${showDifference(e.reading, e.change)}`).join(", ");
      return { heading, text: list ? t("why.also-moves.text", { list: capital(list) }) : t("why.also-moves.none") };
    }
    case "later-passes":
      return {
        heading,
        text: t("why.later-passes.text", {
          reading: tReading(f.reading),
          after: showReading(f.reading, f.after),
          end: showReading(f.reading, f.at_the_end),
        }),
      };
    case "order":
      return { heading, text: orderWords(f) };
    case "afterwards":
      return { heading, text: f.read_again ? t("why.afterwards.read", { reading: tReading(f.reading) }) : t("why.afterwards.sure") };
    case "why-read": {
      const waits = f.waiting.map((hold) => t("why.waits", { adjuster: tAdjuster(hold.adjuster), why: holdWords(hold) }));
      const cause = t(`why.cause.${f.cause}`, { adjuster: tAdjuster(f.adjuster) });
      return { heading, text: [cause, ...waits].join(" ") };
    }
    case "how": {
      const text = tHow(f.reading);
      return text ? { heading, text } : null;
    }
    case "why-nothing": {
      const held = f.holds.map(holdWords).join(" ");
      return { heading, text: f.cause === "held" ? t("why.nothing.held", { why: held }) : t(`why.nothing.${f.cause}`) };
    }
  }
}
