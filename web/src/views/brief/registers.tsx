// What every register says to the sheet, as the answers come.
import type { RegisterBrief } from "../../api/brief_types.ts";
import { Button, Why } from "../../controls/index.ts";
import { t } from "../../words/index.ts";
import { ask, asked, stop, type Asked } from "./asking.ts";
import { besides, place, unmetWords, verdict } from "./wording.ts";

type State = "works" | "gives" | "stuck" | "waiting";
const signs: Record<State, string> = { works: "✓", gives: "≠", stuck: "!", waiting: "…" };

function stateOf(r: RegisterBrief | undefined): State {
  if (!r) return "waiting";
  return r.sheet.works ? "works" : r.departures.length > 0 ? "gives" : "stuck";
}

function Progress({ now }: { now: Asked }) {
  const all = now.outline.registers.length;
  const done = now.outline.registers.filter((r) => now.registers[r.note]).length;
  if (now.state === "done") {
    const wrong = now.outline.registers.filter((r) => now.registers[r.note] && !now.registers[r.note]!.sheet.works).length;
    return (
      <p class="brief-whole" role="status">
        {wrong === 0 ? t("brief.all_works") : t("brief.some", { count: wrong, all })}
      </p>
    );
  }
  return (
    <div class="brief-progress">
      <p role="status">{t(now.state === "asking" ? "brief.asking" : "brief.stopped", { done, all })}</p>
      <progress value={done} max={all} aria-label={t("brief.asking", { done, all })} />
      {now.state === "asking" ? (
        <Button onPress={stop}>{t("brief.stop")}</Button>
      ) : (
        <Button onPress={() => void ask(now.piano)}>{t("brief.go_on")}</Button>
      )}
    </div>
  );
}

function Register({ name, one }: { name: string; one: RegisterBrief | undefined }) {
  const state = stateOf(one);
  const told = one ? verdict(one) : null;
  return (
    <li class={`brief-register brief-${state}`}>
      <div class="brief-register-head">
        <span class="brief-sign" aria-hidden="true">
          {signs[state]}
        </span>
        <h3>{name}</h3>
        <span class="brief-state">{t(`brief.${state}`)}</span>
      </div>
      {told && <p>{told.words}</p>}
      {told?.english && <p lang="en">{told.english}</p>}
      {one && one.unmet.map((u) => <p key={u.need}>{unmetWords(u, one.bands)}</p>)}
      {one && (
        <Why>
          {besides(one).map((sentence) => (
            <p key={sentence}>{sentence}</p>
          ))}
        </Why>
      )}
    </li>
  );
}

export function Registers() {
  const now = asked.value;
  if (!now) return null;
  return (
    <section class="brief-section">
      <h2>{t("brief.registers")}</h2>
      <Progress now={now} />
      <ul class="brief-registers">
        {now.outline.registers.map((r) => (
          <Register key={r.note} name={place(r)} one={now.registers[r.note]} />
        ))}
      </ul>
    </section>
  );
}
