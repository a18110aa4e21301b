import { render } from "preact";
import { App } from "./app.tsx";
import "./look/tokens.css";
import "./look/base.css";
import "./look/controls.css";
import "./look/shell.css";
import { followTheme } from "./shell/menu.tsx";
import { begin } from "./state/begin.ts";
import { followLanguage } from "./words/load.ts";

followTheme();
// The piano's figures are on their way while the words come.
void begin();
void followLanguage().then(() => {
  const root = document.getElementById("app");
  if (root) render(<App />, root);
});
