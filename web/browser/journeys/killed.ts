// The server ends as in a power cut and begins again, with entries made before, at, and after the cut:
// nothing is lost, nothing is there twice, and the page says honestly where the entries are.
import { equal, expect, journey, until, type Page } from "../harness.ts";
import { allSaved, gauge, waiting } from "../typing.ts";
import { firstPiano, open } from "../views.ts";

await journey("killed", async (it) => {
  // A server that is not there is told of in the console.
  it.allow(/ERR_CONNECTION_REFUSED|ERR_CONNECTION_RESET|ERR_EMPTY_RESPONSE|ERR_INCOMPLETE_CHUNKED|ERR_SOCKET_NOT_CONNECTED/);
  const server = await it.server("empty");
  await server.batten("add", "Studio grand", "--sections", "E2 bridge, A#4 strut, D6 strut");
  const piano = await firstPiano(server.url);
  const page = await it.page();
  const typed: string[] = [];
  let next = 0;
  const read = async (at: Page) => {
    const value = (198 + next++ * 0.01).toFixed(2);
    typed.push(value);
    await gauge(at, value);
  };
  const check = async (what: string) => {
    const there = (await server.history()).filter((entry) => entry.kind === "reading").map((entry) => entry.typed ?? "");
    equal([...there].sort().join(" "), [...typed].sort().join(" "), `readings on record ${what}`);
    equal(there.join(" "), typed.join(" "), `their order ${what}`);
  };
  await it.step("three readings, saved", async () => {
    await open(page, server.url, piano, "readings");
    await page.locator(".readings-choose select").first().selectOption("string-height");
    for (let i = 0; i < 3; ++i) await read(page);
    await allSaved(page);
    await check("before the first cut");
  });
  for (const round of [1, 2, 3]) {
    await it.step(`cut right behind an Enter, and four more meanwhile (${round})`, async () => {
      await read(page);
      await server.kill();
      for (let i = 0; i < 4; ++i) await read(page);
      await until("the page says what is kept here", async () => (await waiting(page)) >= 4);
    });
    await it.step(`the server is there again (${round})`, async () => {
      await server.begin();
      await allSaved(page);
      await check(`after cut ${round}`);
    });
  }
  await it.step("the page is closed while the server is away, and opened again later", async () => {
    await server.kill();
    for (let i = 0; i < 3; ++i) await read(page);
    await until("three are kept here", async () => (await waiting(page)) === 3);
    const context = page.context();
    await page.close();
    await server.begin();
    const again = await it.page({ context });
    await open(again, server.url, piano, "readings");
    await allSaved(again);
    await check("after the page was closed");
    expect((await again.locator(".shell-link").first().getAttribute("class"))?.includes("live"), "The page does not say that all is saved.");
  });
});
