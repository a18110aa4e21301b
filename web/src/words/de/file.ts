export { de as words } from "./index.ts";
