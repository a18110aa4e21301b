import { render } from "preact";
import { App } from "./app.tsx";
import "./look/tokens.css";

const root = document.getElementById("app");
if (root) render(<App />, root);
