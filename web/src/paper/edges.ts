// The edges of every printed page: piano and date above, page x of y below, where the browser can.
let sheet: CSSStyleSheet | null = null;

function quoted(text: string): string {
  return `"${text.replace(/[\\"]/g, "\\$&").replace(/[\n\r]/g, " ")}"`;
}

/** `page` holds {page} and {pages}. Returns what takes it away again. */
export function forPaper(above: string, page: string, size: "a4" | "letter"): () => void {
  // What a browser without such edges prints above each page, and what a PDF is called.
  let before = document.title;
  const begin = () => {
    before = document.title;
    if (above) document.title = above;
  };
  const end = () => (document.title = before);
  addEventListener("beforeprint", begin);
  addEventListener("afterprint", end);
  if ("adoptedStyleSheets" in document) {
    sheet ??= new CSSStyleSheet();
    const counted = page
      .split(/(\{pages?\})/)
      .map((piece) => (piece === "{page}" ? "counter(page)" : piece === "{pages}" ? "counter(pages)" : quoted(piece)))
      .join(" ");
    const font = "font: 11pt sans-serif;";
    sheet.replaceSync(
      `@page { size: ${size === "a4" ? "A4" : "letter"}; @top-left { content: ${quoted(above)}; ${font} } @bottom-right { content: ${counted}; ${font} } }`,
    );
    if (!document.adoptedStyleSheets.includes(sheet)) document.adoptedStyleSheets = [...document.adoptedStyleSheets, sheet];
  }
  return () => {
    removeEventListener("beforeprint", begin);
    removeEventListener("afterprint", end);
    document.adoptedStyleSheets = document.adoptedStyleSheets.filter((one) => one !== sheet);
  };
}
