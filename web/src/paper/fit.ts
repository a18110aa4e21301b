// The owner's page is one sheet: before it is printed it is measured as it will be set, and what has no room goes out by
// its rank, as the program's own pages do; the page says so.

/** Printed area: the sheet without the margins of page.css, mm. */
const sheets = { a4: { width: 210 - 32, height: 297 - 30 }, letter: { width: 215.9 - 32, height: 279.4 - 30 } } as const;
const px_per_mm = 96 / 25.4;
/** Rounding on the way to paper must not begin another sheet. */
const spare_mm = 1;
/** Whole first; a little smaller sooner than something left out. */
const smaller = ["paper-smaller", "paper-smallest"] as const;

interface Giving {
  element: HTMLElement;
  rank: number;
  /** Items or rows, first to last; empty: it goes as a whole. */
  parts: HTMLElement[];
  least: number;
  gone: number;
}

/** The one of the highest rank that can still give, the last of them. */
export function nextToGive<T extends { rank: number; parts: readonly unknown[]; least: number; gone: number }>(list: readonly T[]): T | null {
  let best: T | null = null;
  for (const one of list) {
    const left = one.parts.length === 0 ? 1 - one.gone : one.parts.length - one.gone - one.least;
    if (left > 0 && (!best || one.rank >= best.rank)) best = one;
  }
  return best;
}

function giving(page: HTMLElement): Giving[] {
  return [...page.querySelectorAll<HTMLElement>("[data-rank]")].map((element) => ({
    element,
    rank: Number(element.dataset["rank"]),
    least: Number(element.dataset["least"]),
    parts: [...element.querySelectorAll<HTMLElement>(":scope > ul > li, :scope > .paper-figures > tbody")],
    gone: 0,
  }));
}

/** Sets the page as it will be printed, and fits it to one sheet where it is to be one; returns what puts everything back. */
export function setForPaper(page: HTMLElement, size: keyof typeof sheets, one: boolean): () => void {
  const undo: (() => void)[] = [];
  const { width, height } = sheets[size];
  page.classList.add("paper-set");
  page.style.width = `${width}mm`;
  undo.push(() => {
    page.classList.remove("paper-set", ...smaller);
    page.style.width = "";
  });
  const back = () => undo.forEach((act) => act());
  const fits = () => !one || page.getBoundingClientRect().height <= (height - spare_mm) * px_per_mm;
  const hide = (element: HTMLElement) => {
    element.hidden = true;
    undo.push(() => (element.hidden = false));
  };
  if (fits()) return back;
  for (const step of smaller) {
    page.classList.add(step);
    if (fits()) return back;
  }
  const said = page.querySelector<HTMLElement>(".paper-cut");
  const more = (said?.dataset["more"] ?? "").split("\n");
  const list = giving(page);
  while (!fits()) {
    const next = nextToGive(list);
    if (!next) break;
    next.gone += 1;
    const part = next.parts[next.parts.length - next.gone];
    hide(part ?? next.element);
    // An empty line to sign on is no loss worth a word.
    if (said?.hidden && !next.element.querySelector(".paper-sign")) {
      said.hidden = false;
      undo.push(() => (said.hidden = true));
    }
    if (part?.tagName !== "LI" || !part.parentElement) continue;
    // A last item counts those left out.
    let counted = part.parentElement.querySelector<HTMLElement>(".paper-more");
    if (!counted) {
      counted = part.parentElement.appendChild(document.createElement("li"));
      counted.className = "paper-more";
      const made = counted;
      undo.push(() => made.remove());
    }
    counted.textContent = (more[next.gone === 1 ? 0 : 1] ?? "").replace("{count}", String(next.gone));
  }
  return back;
}
