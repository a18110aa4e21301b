import { language } from "../state/choices.ts";

/** As a sentence or a heading begins: "blow" is "Blow". */
export function capital(text: string): string {
  return text.charAt(0).toLocaleUpperCase(language.value) + text.slice(1);
}
