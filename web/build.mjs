// Builds the front end: index.html, app.js, app.css and a file for each language into the folder given (default: dist).
//   node build.mjs [folder]
import { copyFile, mkdir } from "node:fs/promises";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { build } from "esbuild";

const here = dirname(fileURLToPath(import.meta.url));
const out = process.argv[2] ?? join(here, "dist");

await mkdir(out, { recursive: true });
await build({
  // Each language a file of its own: a page fetches the one it shows.
  entryPoints: {
    app: join(here, "src/main.tsx"),
    en: join(here, "src/words/en/file.ts"),
    de: join(here, "src/words/de/file.ts"),
  },
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
