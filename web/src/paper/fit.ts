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

/** A fifth less, with a sign that it goes on; one's own words may be longer than any page. */
export function shortened(text: string): string {
  return `${[...text.replace(/…$/, "")].slice(0, Math.floor((text.length * 4) / 5)).join("").trimEnd()}…`;
}
const least_shortened = 40; // characters

function longestText(page: HTMLElement): Text | null {
  let longest: Text | null = null;
  const walk = document.createTreeWalker(page, NodeFilter.SHOW_TEXT);
  for (let node = walk.nextNode(); node; node = walk.nextNode()) {
    const text = node as Text;
    if (text.parentElement?.closest("[hidden], .paper-cut, svg")) continue;
    if (text.data.length >= Math.max(least_shortened, (longest?.data.length ?? 0) + 1)) longest = text;
  }
  return longest;
}

/** Sets the page as it will be printed, and fits it to one sheet where it is to be one; returns what puts everything back. */
export function setForPaper(page: HTMLElement, size: keyof typeof sheets, one: boolean): () => void {
  const undo: (() => void)[] = [];
  const said = page.querySelector<HTMLElement>(".paper-cut");
  const { width, height } = sheets[size];
  page.classList.add("paper-set");
  page.style.width = `${width}mm`;
  undo.push(() => {
    page.classList.remove("paper-set", ...smaller);
    page.style.width = "";
    if (said) said.hidden = true;
  });
  // The last change first: a text may have been shortened more than once.
  const back = () => undo.reverse().forEach((act) => act());
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
  const more = (said?.dataset["more"] ?? "").split("\n");
  const list = giving(page);
  while (!fits()) {
    const next = nextToGive(list);
    if (!next) break;
    next.gone += 1;
    const part = next.parts[next.parts.length - next.gone];
    hide(part ?? next.element);
    // An empty line to sign on is no loss worth a word.
    if (said && !next.element.querySelector(".paper-sign")) said.hidden = false;
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
  while (!fits()) {
    const whole = longestText(page);
    if (!whole) break;
    const { data } = whole;
    undo.push(() => (whole.data = data));
    whole.data = shortened(data);
    if (said) said.hidden = false;
  }
  return back;
}
