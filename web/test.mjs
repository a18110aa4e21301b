// Bundles every test of tests/ and runs it with node's own test runner, so that node 18 needs no
// help with TypeScript.
//   node test.mjs [part of a name]
import { spawnSync } from "node:child_process";
import { mkdtemp, readdir, rm } from "node:fs/promises";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { build } from "esbuild";

const here = dirname(fileURLToPath(import.meta.url));
const part = process.argv[2] ?? "";
const tests = (await readdir(join(here, "tests"))).filter(
  (name) => /\.test\.tsx?$/.test(name) && name.includes(part),
);
if (tests.length === 0) {
  console.error(`There is no test named like "${part}".`);
  process.exit(1);
}
// Inside the folder, so that what is not bundled is found in node_modules.
const out = await mkdtemp(join(here, "node_modules", ".tests-"));
await build({
  inject: [join(here, "tests/words.ts")],
  entryPoints: tests.map((name) => join(here, "tests", name)),
  outdir: out,
  outExtension: { ".js": ".mjs" },
  bundle: true,
  platform: "node",
  format: "esm",
  target: "node18",
  jsx: "automatic",
  jsxImportSource: "preact",
  packages: "external",
  sourcemap: "inline",
  loader: { ".css": "empty" },
  define: { WEB_FOLDER: JSON.stringify(here) },
  logLevel: "warning",
});
const built = (await readdir(out)).filter((name) => name.endsWith(".mjs")).map((name) => join(out, name));
const ran = spawnSync(process.execPath, ["--enable-source-maps", "--test", ...built], { stdio: "inherit" });
await rm(out, { recursive: true });
process.exit(ran.status ?? 1);
