// The program comes in parts: the first load is the main file alone, a page fetches its part once,
// everything is there offline after one visit, and a part that does not come is said.

import assert from "node:assert/strict";
import { readdirSync } from "node:fs";
import { test } from "node:test";

import { arrived, dist, isPart, keptOffline, mounted, press } from "./kit.mjs";
import { heading, saved, savedTest, stage, wholeTest } from "./steps.mjs";
import { routesOf } from "./states.mjs";

const here = stage();
const { open } = here;

/** Without a worker, so that only what the page itself wants is asked for. */
const alone = () => open({ serviceWorkers: "block" });

const parts = readdirSync(dist).filter((name) => isPart(`/${name}`));

test("the first load is the main file, and a page brings its part once", async () => {
  assert.ok(parts.length >= 4, `the build left ${parts}`);
  const { page, watch, context } = await alone();
  const fetched = () => watch.requests.filter(isPart).map((url) => new URL(url).pathname.slice(1));
  await page.goto(here.host.url);
  await mounted(page);
  await page.getByRole("button", { name: "Start a test" }).waitFor();
  const first = watch.requests.map((url) => new URL(url).pathname.slice(1));
  assert.ok(first.some((name) => name.endsWith("_bg.wasm")), "the log saw no program");
  assert.deepEqual(first.filter((name) => isPart(`/${name}`) || name.startsWith("words-")), []);
  await page.goto(`${here.host.url}#/about`);
  await arrived(page);
  const about = fetched();
  assert.ok(about.some((name) => name.startsWith("part-more-")), `${about}`);
  assert.ok(!about.some((name) => /^part-tests?-/.test(name)), `${about}`);
  await page.goto(`${here.host.url}#/words`);
  await arrived(page);
  assert.deepEqual(fetched(), about, "the part came twice");
  watch.assertSealed(here.host.origin);
  watch.assertCalm();
  await context.close();
});

test("who begins a test has the pages of its result too", async () => {
  const { page, watch, context } = await alone();
  await wholeTest(page, here.host.url);
  // Cut before the result is asked for: it is there already.
  await page.route(isPart, (route) => route.abort());
  await press(page, "Save result");
  await saved(page);
  await page.getByText("Your best today: 43.5").waitFor();
  const all = watch.requests.filter(isPart);
  assert.deepEqual(all, [...new Set(all)], "a part came twice");
  assert.ok(!all.some((url) => url.includes("part-more-")), "more came than a test needs");
  await context.close();
});

test("after one visit every page opens with the server gone", async () => {
  const { page, watch, context } = await open();
  await page.goto(here.host.url);
  await keptOffline(page);
  await here.host.pause();
  try {
    const titles = new Set();
    for (const route of routesOf()) {
      await page.goto(`${here.host.url}#/${route}`);
      await arrived(page);
      assert.equal(await page.getByText("This page did not arrive").count(), 0, route);
      titles.add(await page.locator("h1").textContent());
    }
    assert.ok(titles.size >= 12, `only ${[...titles]} were seen`);
  } finally {
    await here.host.resume();
  }
  watch.assertSealed(here.host.origin);
  await context.close();
});

test("a part that does not come is said, and can be asked for again", async () => {
  const { page, context } = await alone();
  await page.goto(here.host.url);
  await mounted(page);
  await page.route(isPart, (route) => route.abort());
  await page.goto(`${here.host.url}#/about`);
  await page.getByText("This page did not arrive.").waitFor();
  await press(page, "Try again");
  await page.getByText("This page did not arrive.").waitFor();
  await page.unroute(isPart);
  await press(page, "Try again");
  await heading(page, "About");
  assert.equal(await page.getByText("This page did not arrive.").count(), 0);
  await context.close();
});

test("where something is stored its part comes first, and no wall without it is shown", async () => {
  const { page, watch, context } = await alone();
  await savedTest(page, here.host.url);
  const before = watch.requests.length;
  await page.goto(here.host.url);
  await page.getByRole("link", { name: "43.5" }).waitFor();
  const again = watch.requests.slice(before).filter(isPart);
  assert.ok(again.some((url) => url.includes("/part-kept-")), `${again}`);
  assert.ok(!again.some((url) => /\/part-(tests?|more)-/.test(url)), `${again}`);
  await page.route(isPart, (route) => route.abort());
  await page.reload();
  await page.getByText("This page did not arrive.").waitFor();
  assert.equal(await page.getByText("No tests yet").count(), 0);
  await page.unroute(isPart);
  await press(page, "Try again");
  await page.getByRole("link", { name: "43.5" }).waitFor();
  await context.close();
});

test("a part with one byte changed is refused", async () => {
  const { page, context } = await alone();
  await page.goto(here.host.url);
  await mounted(page);
  await page.route(isPart, async (route) => {
    const response = await route.fetch();
    const body = await response.body();
    body[body.length - 1] ^= 1;
    await route.fulfill({ response, body });
  });
  await page.goto(`${here.host.url}#/about`);
  await page.getByText("This page did not arrive.").waitFor();
  // The first part refused is told while others are still on their way through the handler above.
  await page.unrouteAll({ behavior: "wait" });
  await context.close();
});
