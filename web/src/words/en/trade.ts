// The trade's own words, by the catalogue's codes: readings and how the hand takes them, adjusters with their verbs
// and tools, cautions, preparation. Shared with the program's pages; its English as core/regulation/catalogue says it.
export { default as trade } from "../../../../data/words/en/trade.json";
