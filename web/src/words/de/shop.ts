import type { shop as en } from "../en/shop.ts";

export const shop: Record<keyof typeof en, string> = {
  "shop.what": "Gilt für jedes Instrument und für alle, die hier arbeiten. Es liegt im Speicher neben den Journalen.",
  "shop.group.letterhead": "Briefkopf",
  "shop.group.paper": "Papier",
  "shop.group.due": "Wann wiederkommen",
  "shop.group.checks": "Was zuerst anzusehen ist",
  "shop.group.backup": "Sicherungen",
  "shop.logo": "Logo",
  "shop.logo.shown": "Das Logo, wie es gedruckt wird",
  "shop.logo.none": "Keines; der Name steht allein.",
  "shop.logo.what": "Eine PNG- oder JPEG-Datei bis 1 MB, gedruckt bis 25 mm hoch links vom Namen.",
  "shop.logo.choose": "Datei wählen",
  "shop.logo.other": "Andere Datei wählen",
  "shop.logo.kept": "Der Briefkopf ist, wie er war.",
  "shop.logo.wrong_kind": "Die Datei ist weder PNG noch JPEG.",
  "shop.logo.wrong_kind.todo": "Das Bild als PNG oder JPEG speichern und noch einmal wählen.",
  "shop.logo.large": "Die Datei ist größer als 1 MB.",
  "shop.logo.large.todo": "Das Bild kleiner speichern: 1000 Pixel in der Breite sind auf Papier reichlich.",
};
