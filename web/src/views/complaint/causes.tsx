// Causes, likeliest first: as words, as a bar and as a number, each with its reason.
import type { Diagnosis, RankedCause } from "../../api/complaint_types.ts";
import { Why } from "../../controls/index.ts";
import { capital } from "../../words/capital.ts";
import { t } from "../../words/index.ts";
import { cause, compared, felt, likelihood, lookName, lookValue, share } from "./wording.ts";

const shown_at_once = 4;
const worth_showing = 0.01;

const quoted = (codes: readonly string[]) => codes.map((code) => `„${felt(code)}“`).join(" ");
const quotedEn = (codes: readonly string[]) => codes.map((code) => `“${felt(code)}”`).join(" ");

function Reason({ one, german }: { one: RankedCause; german: boolean }) {
  const { tell, same } = compared(one.because.looks);
  const quote = german ? quoted : quotedEn;
  const empty = one.because.explained.length + one.because.unexplained.length + one.because.looks.length === 0;
  if (empty) return <p>{t("complaint.no_reason")}</p>;
  return (
    <>
      {one.because.explained.length > 0 && <p>{t("complaint.explains", { felt: quote(one.because.explained) })}</p>}
      {one.because.unexplained.length > 0 && (
        <p>{t("complaint.not_explains", { felt: quote(one.because.unexplained) })}</p>
      )}
      {tell.map((l) => (
        <p key={l.look} class="complaint-compared">
          {t("complaint.compared", {
            look: lookName(l.look),
            seen: lookValue(l.look, l.seen),
            given: lookValue(l.look, l.given),
            sound: lookValue(l.look, l.sound),
          })}
        </p>
      ))}
      {same.length > 0 && <p>{t("complaint.leaves", { looks: same.map((l) => lookName(l.look)).join(", ") })}</p>}
    </>
  );
}

function Cause({ one, german }: { one: RankedCause; german: boolean }) {
  const name = cause(one.cause);
  return (
    <li class="complaint-cause">
      <div class="complaint-cause-head">
        <span class="complaint-cause-name">{capital(name)}</span>
        <span class="complaint-cause-share">
          {likelihood(one.probability)} · {share(one.probability)}
        </span>
      </div>
      <div class="complaint-bar" aria-hidden="true">
        <span style={{ width: `${Math.max(1, 100 * one.probability)}%` }} />
      </div>
      <Why>
        <Reason one={one} german={german} />
      </Why>
    </li>
  );
}

export function Causes({ found, german }: { found: Diagnosis; german: boolean }) {
  const worth = found.causes.filter((c) => c.probability >= worth_showing);
  const first = worth.slice(0, shown_at_once);
  const rest = worth.slice(shown_at_once);
  return (
    <section aria-labelledby="complaint-causes-title">
      <h2 id="complaint-causes-title">{t("complaint.causes")}</h2>
      <ol class="complaint-causes">
        {first.map((one) => (
          <Cause key={one.cause} one={one} german={german} />
        ))}
      </ol>
      {rest.length > 0 && (
        <Why label={t("complaint.more_causes")}>
          <ol class="complaint-causes" start={first.length + 1}>
            {rest.map((one) => (
              <Cause key={one.cause} one={one} german={german} />
            ))}
          </ol>
        </Why>
      )}
    </section>
  );
}
