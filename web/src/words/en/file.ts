export { en as words } from "./index.ts";
