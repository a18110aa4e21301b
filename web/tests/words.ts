// Before every test: both languages, which a page would fetch.
import { de } from "../src/words/de/index.ts";
import { en } from "../src/words/en/index.ts";
import { learn } from "../src/words/index.ts";

learn("en", en);
learn("de", de);
