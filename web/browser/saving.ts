// A file that a button has the browser save.
import { join } from "node:path";
import type { Page } from "playwright-core";

/** Presses the button and keeps what is saved in `folder`, under the name the browser would give it. */
export async function saved(page: Page, folder: string, button: string | RegExp): Promise<{ file: string; name: string }> {
  const [download] = await Promise.all([page.waitForEvent("download"), page.getByRole("button", { name: button }).click()]);
  const name = download.suggestedFilename();
  const file = join(folder, name);
  await download.saveAs(file);
  return { file, name };
}
