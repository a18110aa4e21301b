// The edges of every printed page: piano and date above, page x of y below, where the browser can.
let sheet: CSSStyleSheet | null = null;

function quoted(text: string): string {
  return `"${text.replace(/[\\"]/g, "\\$&").replace(/[\n\r]/g, " ")}"`;
}

/** `page` holds {page} and {pages}. Returns what takes it away again. */
export function forPaper(above: string, page: string): () => void {
  const before = document.title;
  if (above) document.title = above;
  if ("adoptedStyleSheets" in document) {
    sheet ??= new CSSStyleSheet();
    const counted = page
      .split(/(\{pages?\})/)
      .map((piece) => (piece === "{page}" ? "counter(page)" : piece === "{pages}" ? "counter(pages)" : quoted(piece)))
      .join(" ");
    sheet.replaceSync(
      `@page { @top-left { content: ${quoted(above)}; font: 11pt sans-serif; } @bottom-right { content: ${counted}; font: 11pt sans-serif; } }`,
    );
    if (!document.adoptedStyleSheets.includes(sheet)) document.adoptedStyleSheets = [...document.adoptedStyleSheets, sheet];
  }
  return () => {
    document.title = before;
    document.adoptedStyleSheets = document.adoptedStyleSheets.filter((one) => one !== sheet);
  };
}
