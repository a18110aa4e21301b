// A page composed by the program, as it is printed: its words come with it, in its own language.
import type { Block, ComposedPage, PageItem, PageRow } from "../api/paper_types.ts";
import { language as ofTheApp } from "../state/choices.ts";
import { BeforeAfter } from "./before_after.tsx";
import { Letterhead } from "./letterhead.tsx";
import "./page.css";

function Item({ item }: { item: PageItem }) {
  return (
    <>
      {item.lead && <strong>{item.lead}</strong>}
      {item.lead && item.text && " "}
      {item.text}
    </>
  );
}

/** A leading text ends as it is meant to stand before what follows. */
const joined = (lead: string): string => (lead === "" || /[.:!?]$/.test(lead) ? lead : `${lead}:`);

function Figures({ columns, rows }: { columns: string[]; rows: PageRow[] }) {
  return (
    <table class="paper-figures">
      <thead>
        <tr>
          {columns.map((name) => (
            <th key={name} scope="col">
              {name}
            </th>
          ))}
        </tr>
      </thead>
      {rows.map((row, i) => (
        <tbody key={i}>
          <tr class={row.marked ? "paper-marked" : undefined}>
            {row.cells.map((cell, c) => (c === 0 ? <th key={c} scope="row">{cell}</th> : <td key={c}>{cell}</td>))}
          </tr>
          {row.means && (
            <tr class="paper-means">
              <td colSpan={columns.length}>{row.means}</td>
            </tr>
          )}
        </tbody>
      ))}
    </table>
  );
}

function Table({ columns, rows }: { columns: string[]; rows: PageRow[] }) {
  return (
    <div class="paper-columns">
      <table>
        <thead>
          <tr>
            {columns.map((name) => (
              <th key={name} scope="col">
                {name}
              </th>
            ))}
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
          <Item item={{ lead: joined(block.lead), text: block.text }} />
        </p>
      );
    case "quiet":
      return <p class="quiet">{block.text}</p>;
    case "caution":
      return (
        <p class="paper-caution">
          <Item item={{ lead: joined(block.lead), text: block.text }} />
        </p>
      );
    case "list":
      return (
        <ul class="paper-list">
          {block.items.map((item, i) => (
            <li key={i}>
              <Item item={{ lead: joined(item.lead), text: item.text }} />
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
            <One key={b} block={block} />
          ))}
        </section>
      ))}
    </article>
  );
}
