// A page composed by the program, as it is printed: its words come with it, in its own language.
import type { Block, ComposedPage, PageItem, PageRow } from "../api/paper_types.ts";
import { language as ofTheApp } from "../state/choices.ts";
import { BeforeAfter } from "./before_after.tsx";
import { Letterhead } from "./letterhead.tsx";
import "./page.css";

function Item({ item }: { item: PageItem }) {
  return (
    <>
      {item.lead && <strong class="paper-lead">{item.lead}</strong>}
      {item.lead && item.text && " "}
      {item.text}
    </>
  );
}

/** A column of names may have none of its own. */
function Heads({ columns }: { columns: string[] }) {
  return (
    <>
      {columns.map((name, c) =>
        name ? (
          <th key={c} scope="col" role="columnheader">
            {name}
          </th>
        ) : (
          <td key={c} role="cell" />
        ),
      )}
    </>
  );
}

function Figures({ columns, rows }: { columns: string[]; rows: PageRow[] }) {
  return (
    <table class="paper-figures" role="table">
      <thead>
        <tr role="row">
          <Heads columns={columns} />
        </tr>
      </thead>
      {rows.map((row, i) => (
        <tbody key={i}>
          <tr role="row" class={row.marked ? "paper-marked" : undefined}>
            {row.cells.map((cell, c) =>
              c === 0 ? (
                <th key={c} scope="row" role="rowheader">
                  {cell}
                </th>
              ) : (
                // On a phone, where the columns' heads have no room, each figure carries its own.
                <td key={c} role="cell" data-column={columns[c]}>
                  {cell}
                </td>
              ),
            )}
          </tr>
          {row.means && (
            <tr role="row" class="paper-means">
              <td role="cell" colSpan={columns.length}>
                {row.means}
              </td>
            </tr>
          )}
        </tbody>
      ))}
    </table>
  );
}

/** Tables of so many columns stand beside each other. */
const narrow = 4;

function Table({ columns, rows }: { columns: string[]; rows: PageRow[] }) {
  return (
    <div class={columns.length > narrow ? "paper-wide" : "paper-columns"}>
      <table>
        <thead>
          <tr>
            <Heads columns={columns} />
          </tr>
        </thead>
        <tbody>
          {rows.map((row, i) => (
            <tr key={i} class={row.marked ? "paper-marked" : undefined}>
              {row.cells.map((cell, c) => (c === 0 ? <th key={c} scope="row">{cell}</th> : <td key={c}>{cell}</td>))}
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

function One({ block }: { block: Block }) {
  switch (block.kind) {
    case "heading":
      return <h2>{block.text}</h2>;
    case "subheading":
      return <h3>{block.text}</h3>;
    case "text":
      return (
        <p>
          <Item item={block} />
        </p>
      );
    case "quiet":
      return <p class="quiet">{block.text}</p>;
    case "caution":
      return (
        <p class="paper-caution">
          <Item item={block} />
        </p>
      );
    case "list":
      return (
        <ul class="paper-list">
          {block.items.map((item, i) => (
            <li key={i}>
              <Item item={item} />
            </li>
          ))}
        </ul>
      );
    case "figures":
      return <Figures columns={block.columns} rows={block.rows} />;
    case "table":
      return <Table columns={block.columns} rows={block.rows} />;
    case "strip":
      return <BeforeAfter strip={block} />;
    case "sign":
      return <p class="paper-sign">{block.text}</p>;
  }
}

/** Blocks from one heading to the next belong together. */
export function sectionsOf(blocks: readonly Block[]): Block[][] {
  const list: Block[][] = [];
  for (const block of blocks) {
    const last = list.at(-1);
    if (block.kind === "heading" || block.kind === "sign" || !last) list.push([block]);
    else last.push(block);
  }
  return list;
}

export function PaperPage({ page, language }: { page: ComposedPage; language: string }) {
  return (
    <article class="paper-page" lang={language === ofTheApp.value ? undefined : language}>
      <Letterhead />
      <h1>{page.title}</h1>
      <ul class="paper-head plain-list">
        {page.head.map((item, i) => (
          <li key={i}>
            <Item item={item} />
          </li>
        ))}
      </ul>
      {sectionsOf(page.blocks).map((blocks, i) => (
        <section key={i}>
          {blocks.map((block, b) => (
            <div key={b} data-rank={block.rank || undefined} data-least={block.rank ? block.least : undefined}>
              <One block={block} />
            </div>
          ))}
        </section>
      ))}
      {/* Shown by what fits a page to its sheet (fit.ts). */}
      <p class="paper-cut quiet" hidden data-more={page.more.join("\n")}>
        {page.cut}
      </p>
    </article>
  );
}
