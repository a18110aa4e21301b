// Something to be told: with a sign and words, not by colour alone.
import type { ComponentChildren } from "preact";
import type { Problem } from "../api/types.ts";

type Kind = "told" | "doubt" | "stop" | "good";
const signs: Record<Kind, string> = { told: "i", doubt: "?", stop: "!", good: "✓" };

export function Notice({
  kind = "told",
  heading,
  children,
}: {
  kind?: Kind;
  heading?: string | undefined;
  children: ComponentChildren;
}) {
  return (
    <div class={`notice notice-${kind}`} role={kind === "stop" ? "alert" : "note"}>
      <span class="notice-sign" aria-hidden="true">
        {signs[kind]}
      </span>
      <div class="notice-text">
        {heading && <p class="notice-heading">{heading}</p>}
        {children}
      </div>
    </div>
  );
}

/** What happened, what was kept, what to do. `heading`: which thing it is about. */
export function ProblemNotice({
  problem,
  heading,
  children,
}: {
  problem: Problem;
  heading?: string;
  children?: ComponentChildren;
}) {
  return (
    <Notice kind="stop" heading={heading}>
      <div lang={problem.lang}>
        <p class={heading ? "" : "notice-heading"}>{problem.happened}</p>
        {problem.kept && <p>{problem.kept}</p>}
        {problem.todo && <p>{problem.todo}</p>}
      </div>
      {children}
    </Notice>
  );
}
