// Why this order: which pass shifts what another has set.
import type { Plan } from "../../api/plan_types.ts";
import { Why } from "../../controls/index.ts";
import { showNumber } from "../../quantities/show.ts";
import { t } from "../../words/index.ts";
import { capital } from "../../words/capital.ts";
import { passName } from "../hands/wording.ts";
import { shiftTable } from "./words.ts";

/** A square grows with what is shifted; its number is written in it. */
export function OrderDrawing({ plan }: { plan: Plan }) {
  const table = shiftTable(plan.passes);
  const most = Math.max(0.1, ...table.flat().map((cell) => cell ?? 0));
  return (
    <Why label={t("worklist.order")}>
      <p>
        {t("worklist.order.text", {
          derived: showNumber(plan.order.rework_derived, 1),
          common: showNumber(plan.order.rework_common, 1),
        })}
      </p>
      <p class="quiet">{t("worklist.order.matrix")}</p>
      <table class="worklist-matrix">
        <thead>
          <tr>
            <td />
            {plan.passes.map((pass, i) => (
              <th key={pass.adjuster} scope="col">
                <span aria-hidden="true">{i + 1}</span>
                <span class="for-ears">{passName(pass.adjuster)}</span>
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {plan.passes.map((row, r) => (
            <tr key={row.adjuster}>
              <th scope="row">
                {r + 1} {capital(passName(row.adjuster))}
              </th>
              {table[r]!.map((cell, c) => {
                const by = plan.passes[c]!;
                if (r === c) return <td key={by.adjuster} class="worklist-diagonal" />;
                if (cell === null) return <td key={by.adjuster} />;
                const words = t("worklist.order.cell", {
                  by: capital(passName(by.adjuster)),
                  what: passName(row.adjuster),
                  tolerances: showNumber(cell, 1),
                });
                const side = 10 + 26 * Math.sqrt(Math.min(1, cell / most));
                return (
                  <td key={by.adjuster} class={c > r ? "worklist-undoes" : "worklist-before"} title={words}>
                    <span class="worklist-cell">
                      <span class="worklist-square" style={`width:${side}px;height:${side}px`} aria-hidden="true" />
                      <span class="worklist-cell-number">{showNumber(cell, 1)}</span>
                    </span>
                  </td>
                );
              })}
            </tr>
          ))}
        </tbody>
      </table>
    </Why>
  );
}
