// Builds the front end: index.html, app.js and app.css into the folder given (default: dist).
//   node build.mjs [folder]
import { copyFile, mkdir } from "node:fs/promises";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { build } from "esbuild";

const here = dirname(fileURLToPath(import.meta.url));
const out = process.argv[2] ?? join(here, "dist");

await mkdir(out, { recursive: true });
await build({
  entryPoints: { app: join(here, "src/main.tsx") },
  outdir: out,
  bundle: true,
  minify: true,
  format: "esm",
  target: ["chrome111", "safari16.4", "firefox115"],
  jsx: "automatic",
  jsxImportSource: "preact",
  legalComments: "none",
  logLevel: "warning",
});
await copyFile(join(here, "src/index.html"), join(out, "index.html"));
