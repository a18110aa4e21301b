// A pass ends and the next begins: what comes, its tools, its cautions, a pause if one is due.
import type { Pass, Plan } from "../../api/plan_types.ts";
import { Button, Notice } from "../../controls/index.ts";
import { showMinutes } from "../../quantities/show.ts";
import { go } from "../../state/where.ts";
import { plural, t, tCaution, tTools } from "../../words/index.ts";
import { whatIsLeft } from "./queue.ts";
import { beginPass, hand } from "./state.ts";
import { minutesWorked, useNow } from "./top.tsx";
import { capital } from "../../words/capital.ts";
import { passName } from "./wording.ts";

export function PauseDue() {
  const now = useNow();
  const worked = minutesWorked(now);
  if (worked < 50) return null;
  return (
    <Notice kind="doubt" heading={t("hands.pause.now")}>
      <p>{t("hands.pause.now.text", { worked: showMinutes(worked) })}</p>
    </Notice>
  );
}

export function Between({ plan, adjuster, ended }: { plan: Plan; adjuster: string; ended: string | null }) {
  const pass = plan.passes.find((one) => one.adjuster === adjuster);
  if (!pass) return null;
  const left = whatIsLeft(hand.value, plan, adjuster);
  // A pass before this one that has moves to make.
  const at = plan.passes.indexOf(pass);
  const early = pass.moves > 0 ? plan.passes.slice(0, at).find((one) => whatIsLeft(hand.value, plan, one.adjuster).moves > 0) : undefined;
  const cautions = pass.moves > 0 ? [...new Set([...pass.cautions, ...(pass.strain > 1 ? ["strained-hands"] : [])])] : [];
  return (
    <section class="hands-between" data-pass={adjuster}>
      {ended && (
        <p class="hands-ended" role="status">
          ✓ {t("hands.ended", { pass: capital(passName(ended)) })}
        </p>
      )}
      <h1 tabIndex={-1}>{t("hands.next", { pass: passName(adjuster) })}</h1>
      <p class="hands-large">
        {t("hands.next.work", {
          moves: plural("hands.moves", left.moves),
          readings: plural("hands.readings", left.readings),
          minutes: showMinutes(left.minutes),
        })}
      </p>
      <PauseDue />
      {early && (
        <Notice kind="doubt">{t("hands.out_of_order", { first: passName(early.adjuster), pass: passName(adjuster) })}</Notice>
      )}
      {pass.moves > 0 && (
        <p>
          <strong>{t("hands.tools")}: </strong>
          {tTools(adjuster)}
        </p>
      )}
      <p class="quiet">{t("hands.halves")}</p>
      <Cautions codes={cautions} pass={pass} />
      <div class="hands-buttons">
        <Button kind="main" size="huge" onPress={beginPass} class="hands-begin">
          {t(cautions.length > 0 ? "hands.begin.caution" : "hands.begin")}
        </Button>
        <Button size="huge" onPress={() => go("worklist")}>
          {t("hands.worklist")}
        </Button>
      </div>
    </section>
  );
}

function Cautions({ codes, pass }: { codes: readonly string[]; pass: Pass }) {
  if (codes.length === 0) return null;
  return (
    <div class="hands-cautions" data-pass={pass.adjuster}>
      <h2>{t("hands.cautions")}</h2>
      {codes.map((code) => {
        const said = tCaution(code);
        return (
          <Notice key={code} kind={code === "strained-hands" ? "doubt" : "stop"} heading={said.heading}>
            <p>{said.text}</p>
          </Notice>
        );
      })}
    </div>
  );
}

export function NothingLeft({ plan, ended }: { plan: Plan; ended: string | null }) {
  return (
    <section class="hands-between">
      {ended && (
        <p class="hands-ended" role="status">
          ✓ {t("hands.ended", { pass: capital(passName(ended)) })}
        </p>
      )}
      <h1 tabIndex={-1}>{t(plan.gate_open ? "hands.nothing" : "hands.gate")}</h1>
      <p>{t(plan.gate_open ? "hands.nothing.text" : "hands.gate.text")}</p>
      <div class="hands-buttons">
        {plan.gate_open ? (
          <Button kind="main" size="huge" onPress={() => go("handover")}>
            {t("view.handover")}
          </Button>
        ) : (
          <Button kind="main" size="huge" onPress={() => go("settings")}>
            {t("hands.gate.go")}
          </Button>
        )}
        <Button size="huge" onPress={() => go("worklist")}>
          {t("hands.worklist")}
        </Button>
      </div>
    </section>
  );
}
