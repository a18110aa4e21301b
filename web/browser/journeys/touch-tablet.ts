// The whole job by touch only, on a tablet.
import { Touch } from "../hands.ts";
import { journey } from "../harness.ts";
import { wholeJob } from "../whole_job.ts";

await journey("touch-tablet", async (it) => {
  const server = await it.server("empty");
  await wholeJob(it, server, new Touch(await it.page({ size: "tablet", touch: true })));
});
