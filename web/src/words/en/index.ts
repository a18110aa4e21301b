import { brief } from "./brief.ts";
import { checks } from "./checks.ts";
import { complaint } from "./complaint.ts";
import { handover } from "./handover.ts";
import { hands } from "./hands.ts";
import { note } from "./note.ts";
import { overtime } from "./overtime.ts";
import { paper } from "./paper.ts";
import { pianos } from "./pianos.ts";
import { quantities } from "./quantities.ts";
import { readings } from "./readings.ts";
import { settings } from "./settings.ts";
import { shell } from "./shell.ts";
import { shop } from "./shop.ts";
import { strip } from "./strip.ts";
import { studio } from "./studio.ts";
import { trade } from "./trade.ts";
import { worklist } from "./worklist.ts";

export const en = {
  ...shell,
  ...quantities,
  ...trade,
  ...strip,
  ...pianos,
  ...studio,
  ...readings,
  ...settings,
  ...brief,
  ...worklist,
  ...hands,
  ...note,
  ...complaint,
  ...overtime,
  ...checks,
  ...handover,
  ...paper,
  ...shop,
} as const;
