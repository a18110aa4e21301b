// A grand action from the side, the player on the left: not to scale, so that every screw can be
// seen. The one that is worked at is lit and ringed.
import { t, tAdjuster, tReading } from "../words/index.ts";
import "./drawing.css";

interface Place {
  x: number;
  y: number;
  r: number;
}
/** Where the ring goes. */
export const places: Record<string, Place> = {
  capstan: { x: 300, y: 183, r: 19 },
  "balance-punchings": { x: 190, y: 221, r: 19 },
  "front-punchings": { x: 58, y: 225, r: 19 },
  "jack-button": { x: 256, y: 132, r: 15 },
  "lever-height-button": { x: 331, y: 127, r: 16 },
  "repetition-spring": { x: 285, y: 121, r: 19 },
  "let-off-button": { x: 187, y: 122, r: 20 },
  "drop-screw": { x: 226, y: 78, r: 15 },
  "back-check": { x: 425, y: 124, r: 24 },
  "damper-wire": { x: 458, y: 172, r: 21 },
};

/** The part of the drawing that is shown: near the front rails, or from the let-off rail on back. */
function crop(adjuster: string | null): string {
  if (adjuster === null) return "0 0 480 252";
  return adjuster.endsWith("punchings") ? "4 56 330 194" : "152 0 326 250";
}

function lit(now: string | null, adjuster: string): string {
  return now === adjuster ? "sketch-lit" : "sketch-part";
}

export function ActionSketch({ adjuster, reading }: { adjuster: string | null; reading?: string | null }) {
  const ring = adjuster ? places[adjuster] : undefined;
  const label = adjuster ? t("drawing.action", { part: tAdjuster(adjuster) }) : reading ? tReading(reading) : t("drawing.action.plain");
  const part = (name: string) => lit(adjuster, name);
  return (
    <svg class="sketch" viewBox={crop(adjuster)} role="img" aria-label={label}>
      {/* Key bed, rails and the key on them. */}
      <path class="sketch-ground" d="M8 246H472" />
      <rect class="sketch-wood" x="44" y="232" width="28" height="14" />
      <rect class="sketch-wood" x="174" y="228" width="32" height="18" />
      <rect class="sketch-wood" x="400" y="216" width="34" height="30" />
      <rect class="sketch-felt" x="400" y="210" width="34" height="7" />
      <rect class={part("front-punchings")} x="46" y="222" width="24" height="9" rx="2" />
      <path class="sketch-line" d="M58 222V204" />
      <rect class={part("balance-punchings")} x="178" y="216" width="24" height="10" rx="2" />
      <path class="sketch-line" d="M190 228V190" />
      <path class="sketch-wood" d="M20 196H438V212H20Z" />
      <path class="sketch-top" d="M18 192H112V197H18Z" />
      {/* Wippen with heel, jack and repetition lever. */}
      <path class="sketch-wood" d="M212 148L376 138V150L320 155L316 170H284L282 157L212 160Z" />
      <path class="sketch-wood" d="M360 140L366 116H382L378 146Z" />
      <circle class="sketch-pin" cx="369" cy="145" r="3.5" />
      <path class="sketch-wood" d="M296 142L300 104H314L318 141Z" />
      <path class="sketch-wood" d="M228 94L231 85L340 113L338 123Z" />
      <circle class="sketch-pin" cx="307" cy="109" r="3.5" />
      <path class="sketch-wood" d="M220 152L238 91L248 93L232 152L228 158L186 148L187 139L222 146Z" />
      <circle class="sketch-pin" cx="226" cy="150" r="3.5" />
      {/* Capstan. */}
      <g class={part("capstan")}>
        <path d="M296 182H304V196H296Z" />
        <circle cx="300" cy="177" r="8" />
      </g>
      {/* Rail with flange, shank, knuckle and hammer. */}
      <path class="sketch-wood" d="M168 60H222L238 68V80L214 76H168Z" />
      <g class={part("drop-screw")}>
        <path d="M223 74H229V84H223Z" />
        <path d="M218 84H234V88H218Z" />
      </g>
      <path class="sketch-wood" d="M230 68L408 112L406 119L229 76Z" />
      <circle class="sketch-felt" cx="252" cy="86" r="9" />
      <circle class="sketch-pin" cx="231" cy="71" r="3.5" />
      <path class="sketch-wood" d="M414 58L404 142L388 150L400 118L404 100Z" />
      <path class="sketch-felt" d="M404 74C394 58 402 36 414 32C427 40 430 62 418 76Z" />
      {/* String and damper. */}
      <path class="sketch-string" d="M340 24H474" />
      <path class="sketch-damper" d="M444 6H472V16H444Z" />
      <path class="sketch-felt" d="M446 16H470V24H446Z" />
      <g class={part("damper-wire")}>
        <path d="M456.500 24H459.500V180H456.500Z" />
      </g>
      <path class="sketch-wood" d="M442 180H474V190H442Z" />
      {/* Let-off button under its rail. */}
      <path class="sketch-wood" d="M172 90H202V108H172Z" />
      <g class={part("let-off-button")}>
        <path d="M185 108H189V122H185Z" />
        <path d="M177 122H197V132H177Z" />
      </g>
      {/* Jack button, lever height button, spring. */}
      <g class={part("jack-button")}>
        <path d="M240 130H268V134H240Z" />
        <path d="M264 124H271V140H264Z" />
      </g>
      <g class={part("lever-height-button")}>
        <path d="M329 117H333V141H329Z" />
        <path d="M324 129H338V135H324Z" />
      </g>
      <path class={`${part("repetition-spring")} sketch-wire`} d="M306 132C296 138 286 132 284 122C282 112 272 108 262 106" />
      {/* Back check. */}
      <g class={part("back-check")}>
        <path d="M423 196H427L429 140H425Z" />
        <path d="M420 142L428 104L438 106L431 143Z" />
      </g>
      {ring && (
        <g class="sketch-ring">
          <circle cx={ring.x} cy={ring.y} r={ring.r} />
        </g>
      )}
    </svg>
  );
}
