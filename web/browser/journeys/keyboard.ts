// The whole job by keyboard, gauge and pedal only.
import { Keyboard } from "../hands.ts";
import { journey } from "../harness.ts";
import { wholeJob } from "../whole_job.ts";

await journey("keyboard", async (it) => {
  const server = await it.server("empty");
  await wholeJob(it, server, new Keyboard(await it.page()));
});
