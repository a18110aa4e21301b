// Fetches the words of the chosen language, and of another when another is chosen.
import { effect } from "@preact/signals";
import { language } from "../state/choices.ts";
import { knows, learn } from "./index.ts";

async function load(name: string): Promise<void> {
  if (knows(name)) return;
  // An address of the server, not of the bundle: build.mjs makes a file of each language.
  const address = `/${name}.js`;
  const told = (await import(address)) as { words: Record<string, string> };
  learn(name, told.words);
}

/** Resolves when something can be shown. */
export async function followLanguage(): Promise<void> {
  await load(language.peek());
  effect(() => {
    void load(language.value).catch(() => undefined);
  });
}
