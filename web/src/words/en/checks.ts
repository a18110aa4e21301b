// What is looked at after a transport and with new hammers: common practice, shared with the program.
export { default as checks } from "../../../../data/words/en/checks.json";
