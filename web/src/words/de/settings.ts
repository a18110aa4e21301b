import type { settings as en } from "../en/settings.ts";

export const settings: Record<keyof typeof en, string> = {
  "settings.gate.shut": "Die Vorarbeiten sind nicht abgeschlossen.",
  "settings.gate.why": "Eine Linie auf losen Schrauben oder schleppenden Tasten hält nicht. Messen können Sie schon; Handgriffe werden geplant, sobald jeder Punkt in Ordnung oder wissentlich belassen ist.",
  "settings.gate.go": "Zu den Vorarbeiten",
};
