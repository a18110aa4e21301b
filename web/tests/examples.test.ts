// The examples of data/api-examples, which the server's own tests hold to its answers, are of the types
// the front end reads them with: each is written out as a literal and the compiler asked, so that a key
// that is missing, of another kind or unknown is found.
import assert from "node:assert/strict";
import { spawnSync } from "node:child_process";
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { test } from "node:test";

declare const WEB_FOLDER: string;
const folder = join(WEB_FOLDER, "../data/api-examples");

/**
 * Example → where its type is and what it is called. Views add theirs. "open": the answer says more than
 * the view reads, as for other programs; what it reads must be there and of its kind all the same.
 */
const types: Record<string, [file: string, type: string, open?: "open"]> = {
  brief: ["brief_types", "BriefAnswer", "open"],
  catalogue: ["types", "Catalogue"],
  complaint: ["complaint_types", "Diagnosis", "open"],
  conflict: ["types", "Refusal", "open"],
  entries: ["entries", "EntriesAnswer"],
  "entries-sent": ["entries", "EntriesSent"],
  journal: ["entries", "JournalAnswer"],
  piano: ["types", "PianoHead"],
  note: ["note_types", "NoteFacts"],
  strokes: ["note_types", "Strokes"],
  "what-if": ["note_types", "WhatIf"],
  pianos: ["types", "PianosAnswer"],
  "piano-added": ["types", "Piano"],
  backups: ["bundle_types", "Backups"],
  "bundle-taken": ["bundle_types", "BundleTaken"],
  drift: ["drift_types", "Drift", "open"],
  "first-checks": ["drift_types", "FirstChecks"],
  studio: ["studio_types", "Studio"],
  visits: ["visits_types", "VisitsAnswer"],
  "visits-compare": ["visits_types", "VisitsCompared"],
  "handover-page": ["paper_types", "HandoverPages", "open"],
  "handover-page-de": ["paper_types", "HandoverPages", "open"],
  shop: ["shop_types", "Shop"],
  templates: ["paper_types", "Templates"],
  plan: ["plan_types", "Plan", "open"],
  "read-next": ["types", "ReadNext"],
  refused: ["types", "Refusal"],
  strip: ["types", "Strip"],
  visit: ["types", "Visit"],
};
/** Read by no view, or by a test of their own. */
const others = new Set(["codes", "quantities", "line"]);

/** Long lists of alike things say nothing more than their shapes: one of each is enough. */
function shortened(value: unknown): unknown {
  if (Array.isArray(value)) {
    const seen = new Set<string>();
    return value.map(shortened).filter((one) => {
      const shape = JSON.stringify(one, (_, inner: unknown) =>
        typeof inner === "number" ? 0 : typeof inner === "string" && inner.length > 40 ? "" : inner,
      );
      return seen.size < 200 && !seen.has(shape) && seen.add(shape);
    });
  }
  if (value === null || typeof value !== "object") return value;
  return Object.fromEntries(Object.entries(value).map(([key, inner]) => [key, shortened(inner)]));
}

const opened = `export type Open<T> = T extends (infer U)[] ? Open<U>[]
  : T extends object ? { [K in keyof T]: Open<T[K]> } & { [key: string]: unknown } : T;`;

/** What the compiler says against the examples being of their types. */
function compiled(examples: { name: string; file: string; type: string; open?: boolean; value: unknown }[]): string {
  const place = join(WEB_FOLDER, "node_modules", ".examples");
  mkdirSync(place, { recursive: true });
  const here = mkdtempSync(join(place, "run-"));
  try {
    for (const { name, file, type, open, value } of examples) {
      const text = `import type { ${type} } from "../../../src/api/${file}.ts";
${opened}
export const example = ${JSON.stringify(shortened(value), null, 1)} satisfies ${open ? `Open<${type}>` : type};
`;
      writeFileSync(join(here, `${name}.ts`), text);
    }
    const options = { extends: "../../../tsconfig.json", include: ["."] };
    writeFileSync(join(here, "tsconfig.json"), JSON.stringify(options));
    const tsc = join(WEB_FOLDER, "node_modules/typescript/bin/tsc");
    const ran = spawnSync(process.execPath, [tsc, "-p", here, "--noEmit"], { encoding: "utf8" });
    return ran.stdout + ran.stderr;
  } finally {
    rmSync(here, { recursive: true });
  }
}

const read = (name: string): unknown => JSON.parse(readFileSync(join(folder, `${name}.json`), "utf8"));

test("every example is known here", () => {
  const there = readdirSync(folder).map((name) => name.replace(/\.json$/, ""));
  for (const name of Object.keys(types)) assert.ok(there.includes(name), `${name}.json is not there`);
  const unknown = there.filter((name) => !(name in types) && !others.has(name));
  assert.deepEqual(unknown, []);
});

test("every example is of its type", () => {
  const list = Object.entries(types).map(([name, [file, type, open]]) => ({
    name,
    file,
    type,
    open: open === "open",
    value: read(name),
  }));
  assert.equal(compiled(list), "");
});

test("the compiler finds a key that is missing, of another kind, or unknown", () => {
  const pianos = read("pianos") as { pianos: Record<string, unknown>[] };
  const [first] = pianos.pianos;
  const { name: _, ...nameless } = first!;
  const wrong = [nameless, { ...first, entries: "many" }, { ...first, colour: "black" }];
  wrong.forEach((piano, i) => {
    const said = compiled([{ name: `wrong-${i}`, file: "types", type: "PianosAnswer", value: { pianos: [piano] } }]);
    assert.match(said, /error TS/, `${i}`);
  });
  for (const piano of wrong.slice(0, 2)) {
    const open = compiled([
      { name: "open", file: "types", type: "PianosAnswer", open: true, value: { pianos: [piano] } },
    ]);
    assert.match(open, /error TS/);
  }
});
