// The whole job by touch only, on a phone.
import { Touch } from "../hands.ts";
import { journey } from "../harness.ts";
import { wholeJob } from "../whole_job.ts";

await journey("touch-phone", async (it) => {
  const server = await it.server("empty");
  await wholeJob(it, server, new Touch(await it.page({ size: "phone", touch: true })));
});
