// The order in which the page comes to life.
import { startEntering } from "./entering.ts";
import { startEvents } from "./events.ts";
import { startPiano } from "./piano.ts";
import { loadCatalogue, startSession } from "./session.ts";

let begun = false;

/** Once the session is there, everything follows; pairing calls it again. */
export async function begin(): Promise<void> {
  // The piano's figures need no token: they are asked for at once, beside the session.
  if (!begun) startPiano();
  const answer = await startSession();
  if (begun) {
    if (answer.ok) location.reload();
    return;
  }
  begun = true;
  startEvents();
  await startEntering().catch(() => undefined);
  await loadCatalogue();
}
