// A page on its way to paper: set for it, with piano, date and page x of y at the foot of every sheet, where the browser can.
import { setForPaper } from "./fit.ts";

let sheet: CSSStyleSheet | null = null;

function quoted(text: string): string {
  return `"${text.replace(/[\\"]/g, "\\$&").replace(/[\n\r]/g, " ")}"`;
}

interface Printing {
  /** What a file of it is called, and what stands at the foot. */
  title: string;
  /** Holds {page} and {pages}. */
  number: string;
  size: "a4" | "letter";
  /** Held to one sheet. */
  one: boolean;
}

/** While the view is there. Returns what takes it away again. */
export function forPaper({ title, number, size, one }: Printing): () => void {
  let before = document.title;
  let back: (() => void) | null = null;
  const begin = () => {
    before = document.title;
    if (title) document.title = title;
    const page = document.querySelector<HTMLElement>(".paper-page");
    if (page && !back) back = setForPaper(page, size, one);
  };
  const end = () => {
    document.title = before;
    back?.();
    back = null;
  };
  addEventListener("beforeprint", begin);
  addEventListener("afterprint", end);
  if ("adoptedStyleSheets" in document) {
    sheet ??= new CSSStyleSheet();
    const counted = number
      .split(/(\{pages?\})/)
      .map((piece) => (piece === "{page}" ? "counter(page)" : piece === "{pages}" ? "counter(pages)" : quoted(piece)))
      .join(" ");
    const font = "font: 8.5pt system-ui, sans-serif; color: #333;";
    sheet.replaceSync(
      `@page { size: ${size === "a4" ? "A4" : "letter"}; @bottom-left { content: ${quoted(title)}; ${font} } @bottom-right { content: ${counted}; ${font} } }`,
    );
    if (!document.adoptedStyleSheets.includes(sheet)) document.adoptedStyleSheets = [...document.adoptedStyleSheets, sheet];
  }
  return () => {
    removeEventListener("beforeprint", begin);
    removeEventListener("afterprint", end);
    document.adoptedStyleSheets = document.adoptedStyleSheets.filter((other) => other !== sheet);
  };
}
