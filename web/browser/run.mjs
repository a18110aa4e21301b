// Bundles one journey (or speed, pictures) and runs it, so that node 18 needs no help with TypeScript.
//   node browser/run.mjs journeys/keyboard [arguments]
import { spawnSync } from "node:child_process";
import { mkdtemp, rm } from "node:fs/promises";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { build } from "esbuild";

const here = dirname(fileURLToPath(import.meta.url));
const name = process.argv[2];
if (!name) {
  console.error("Say which: node browser/run.mjs journeys/keyboard");
  process.exit(2);
}
// Inside the folder, so that what is not bundled is found in node_modules.
const out = await mkdtemp(join(here, "..", "node_modules", ".browser-"));
const built = join(out, "run.mjs");
let status = 1;
try {
  await build({
    entryPoints: [join(here, `${name}.ts`)],
    outfile: built,
    bundle: true,
    platform: "node",
    format: "esm",
    target: "node18",
    packages: "external",
    sourcemap: "inline",
    define: { REPOSITORY: JSON.stringify(join(here, "..", "..")) },
    logLevel: "warning",
  });
  status = spawnSync(process.execPath, ["--enable-source-maps", built, ...process.argv.slice(3)], { stdio: "inherit" }).status ?? 1;
} finally {
  await rm(out, { recursive: true, force: true });
}
process.exit(status);
