// Units of readings and adjusters by code, and how finely each is shown.
export type Unit = "mm" | "gf" | "" | "grade" | "%" | "°C";
export type MoveUnit = "turns" | "mm" | "steps";

export interface ReadingShown {
  unit: Unit;
  /** Decimals in mm, gf … */
  decimals: number;
  /** In inches: as a fraction of 64ths; the others in thousandths, a 64th being more than their tolerance. */
  fraction?: true;
}

const coarse: ReadingShown = { unit: "mm", decimals: 1, fraction: true };
const fine: ReadingShown = { unit: "mm", decimals: 2 };

export const readingShown: Record<string, ReadingShown> = {
  "string-height": fine,
  "hammer-height": fine,
  "datum-transfer": fine,
  blow: coarse,
  "key-height": coarse,
  "sharps-height": coarse,
  dip: fine,
  "sharp-dip": fine,
  "let-off": fine,
  drop: fine,
  aftertouch: fine,
  "check-distance": coarse,
  "jack-clearance": fine,
  "jack-wink": { unit: "grade", decimals: 0 },
  "jack-position": fine,
  "spring-rise": { unit: "grade", decimals: 0 },
  "down-weight": { unit: "gf", decimals: 0 },
  "up-weight": { unit: "gf", decimals: 0 },
  "damper-start": { unit: "", decimals: 2 },
  "shank-gap": coarse,
  "hammer-centre-friction": { unit: "gf", decimals: 1 },
  "hammer-spacing": fine,
  "hammer-travel": fine,
  "hammer-squareness": fine,
  "unison-level": fine,
  "pedal-free-play": coarse,
  "damper-tray-lift": coarse,
  "damper-up-stop-gap": fine,
  "sostenuto-blade-height": fine,
  "sostenuto-tab-line": fine,
  "shift-distance": fine,
  humidity: { unit: "%", decimals: 0 },
  temperature: { unit: "°C", decimals: 1 },
  "left-string-gap": fine,
  "middle-string-gap": fine,
  "right-string-gap": fine,
};

export const moveUnits: Record<string, MoveUnit> = {
  capstan: "turns",
  "balance-punchings": "mm",
  "front-punchings": "mm",
  "jack-button": "turns",
  "lever-height-button": "turns",
  "repetition-spring": "steps",
  "let-off-button": "turns",
  "drop-screw": "turns",
  "back-check": "mm",
  "damper-wire": "mm",
  "string-level": "mm",
  "sostenuto-tab": "mm",
  "damper-pedal-rod": "mm",
  "damper-tray-stop": "mm",
  "damper-up-stop": "mm",
  "sostenuto-blade": "mm",
  "shift-stop": "mm",
};
