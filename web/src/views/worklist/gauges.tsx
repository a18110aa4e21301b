// Gauges to cut, one to one, for the piano's own targets.
import { useEffect, useState } from "preact/hooks";
import { getFile } from "../../api/client.ts";
import type { Gauge, GaugePiece, Templates } from "../../api/paper_types.ts";
import type { Problem } from "../../api/types.ts";
import { FileButton, Notice, ProblemNotice } from "../../controls/index.ts";
import { asAsked, pageLanguage } from "../../paper/choices.ts";
import { PageAs } from "../../paper/page_as.tsx";
import { useAnswer } from "../../state/answer.ts";
import { pianoId } from "../../state/piano.ts";
import { t } from "../../words/index.ts";
import { capital } from "../../words/capital.ts";

/** "blow,let-off"; of all gauges nothing need be said. */
export function chosenGauges(all: readonly Gauge[], out: ReadonlySet<string>): string[] {
  return all.map((one) => one.gauge).filter((code) => !out.has(code));
}

/** What the drawing holds and over which field; its hairlines are for a cutter, and view.css draws them for the eye. */
function Picture({ path, revision }: { path: string; revision: number }) {
  const [drawn, setDrawn] = useState<{ box: string; inside: string } | null>(null);
  const [problem, setProblem] = useState<Problem | null>(null);
  useEffect(() => {
    const stop = new AbortController();
    void getFile(path, stop.signal).then(async (answer) => {
      const text = answer.ok ? await answer.value.blob.text() : "";
      if (stop.signal.aborted) return;
      setProblem(answer.ok ? null : answer.problem);
      const svg = new DOMParser().parseFromString(text, "image/svg+xml").documentElement;
      // A page has each name once.
      for (const named of svg.querySelectorAll("[id]")) {
        named.setAttribute("data-layer", named.id);
        named.removeAttribute("id");
      }
      setDrawn(answer.ok ? { box: svg.getAttribute("viewBox") ?? "", inside: svg.innerHTML } : null);
    });
    return () => stop.abort();
  }, [path, revision]);
  if (problem) return <ProblemNotice problem={problem} />;
  if (!drawn) return <Wait />;
  // Drawn by this program's own server from its own address.
  return (
    <svg
      class="gauges-picture"
      viewBox={drawn.box}
      role="img"
      aria-label={t("paper.gauges.picture")}
      dangerouslySetInnerHTML={{ __html: drawn.inside }}
    />
  );
}

function Wait() {
  return (
    <p role="status" aria-busy="true">
      {t("do.making")}
    </p>
  );
}

function Piece({ piece }: { piece: GaugePiece }) {
  return <>{`${piece.text} (${piece.notes})`}</>;
}

export function Gauges() {
  const piano = pianoId.value;
  const base = piano ? `/api/pianos/${encodeURIComponent(piano)}` : "";
  const answer = useAnswer<Templates>(piano && `${base}/templates?${asAsked({}, false)}`);
  const [out, setOut] = useState<ReadonlySet<string>>(new Set());
  const told = answer.value;
  if (!told) return answer.problem ? <ProblemNotice problem={answer.problem} /> : <Wait />;
  const chosen = chosenGauges(told.gauges, out);
  const more: Record<string, string> = out.size === 0 ? {} : { gauge: chosen.join(",") };
  const file = (kind: string) => `${base}/template.${kind}?${asAsked(more)}`;
  return (
    <div class="stack">
      <p>{t("paper.gauges.what")}</p>
      {told.gauges.length === 0 ? (
        <p>{t("paper.gauges.none")}</p>
      ) : (
        <>
          <PageAs />
          <fieldset class="gauges-which">
            <legend class="choice-label">{t("paper.gauges.which")}</legend>
            {told.gauges.map((one) => (
              <label key={one.gauge} class="gauges-one">
                <input
                  type="checkbox"
                  checked={!out.has(one.gauge)}
                  onChange={(event) => {
                    const next = new Set(out);
                    if (event.currentTarget.checked) next.delete(one.gauge);
                    else next.add(one.gauge);
                    setOut(next);
                  }}
                />
                <span lang={told.language}>
                  <strong>{capital(one.name)}</strong>{" "}
                  {one.pieces.map((piece, i) => (
                    <span key={i}>
                      {i > 0 && " · "}
                      <Piece piece={piece} />
                    </span>
                  ))}
                  <br />
                  <span class="quiet">{one.use}</span>
                </span>
              </label>
            ))}
          </fieldset>
          {chosen.length === 0 ? (
            <p role="alert">{t("paper.gauges.choose")}</p>
          ) : (
            <>
              <Picture path={file("svg")} revision={told.revision} />
              <div class="row">
                <FileButton kind="main" path={file("pdf")}>
                  {t("paper.gauges.pdf")}
                </FileButton>
                <FileButton path={file("svg")}>{t("paper.gauges.svg")}</FileButton>
                <FileButton path={file("dxf")}>{t("paper.gauges.dxf")}</FileButton>
              </div>
            </>
          )}
        </>
      )}
      {told.left_out.length > 0 && (
        <ul class="paper-list" lang={told.language}>
          {told.left_out.map((one) => (
            <li key={one.gauge}>
              <strong>{capital(one.name)}:</strong> {one.reason}
            </li>
          ))}
        </ul>
      )}
      {told.cautions.map((one) => (
        <Notice key={one.heading} kind="doubt" heading={one.heading}>
          <p lang={pageLanguage.value}>{one.text}</p>
        </Notice>
      ))}
    </div>
  );
}
