// What a person measured is not lost: storage that refuses, is full, is damaged or is shared by two
// tabs, a tab closed half-way, and a browser killed the moment the page has said "saved".

import assert from "node:assert/strict";
import { test } from "node:test";

import { follow, isPart, keptOffline, mounted, press, scratch, startProfile } from "./kit.mjs";
import {
  begin,
  firstOpen,
  heading,
  keep,
  LOCALE,
  measureAll,
  passReady,
  refuseWrites,
  saved,
  savedTest,
  stage,
  takeWrites,
  wholeTest,
} from "./steps.mjs";

const here = stage();
const { open } = here;

for (const visit of ["first", "second"]) {
  test(`once loaded, a whole test asks for nothing more (${visit} visit)`, async () => {
    const { page, watch, context } = await open();
    await page.goto(here.host.url);
    await keptOffline(page);
    if (visit === "second") {
      await page.reload();
      await mounted(page);
      await keptOffline(page);
    }
    const [seen, served] = [watch.requests.length, here.host.requests().length];
    await measureAll(page, await begin(page));
    await press(page, "Save result");
    await saved(page);
    // Only parts of the program, and the window's icon, which the browser asks for again at each
    // new address: all of it out of the copy on this device.
    const asked = watch.requests.slice(seen).filter((url) => url !== `${here.host.url}icon.svg`);
    assert.ok(asked.some(isPart), "no part was fetched: the filter below is blind");
    assert.deepEqual(asked.filter((url) => !isPart(url)), [], "asked by the page");
    assert.deepEqual(here.host.requests().slice(served), [], "seen by the server");
    watch.assertSealed(here.host.origin);
    watch.assertCalm();
    await context.close();
  });
}

test("a full store keeps the readings on the page until there is room", async () => {
  const { page, watch, context } = await open();
  await wholeTest(page, here.host.url);
  await page.evaluate(refuseWrites, "QuotaExceededError");
  await press(page, "Save result");
  await page.getByText("There is no room left in this browser.").waitFor();
  for (const mark of ["265.5", "266.5", "268.0", "267.5"]) {
    await page.getByRole("button", { name: mark }).waitFor();
  }
  await page.evaluate(takeWrites);
  await press(page, "Save result");
  await saved(page);
  await page.getByText("Your best today: 43.5").waitFor();
  watch.assertCalm();
  await context.close();
});

test("without a journal on the disk the page does not say that a test is safe", async () => {
  const { page, watch, context } = await open();
  await page.addInitScript(() => {
    Object.defineProperty(window, "indexedDB", { get: () => undefined });
  });
  await wholeTest(page, here.host.url);
  await press(page, "Save result");
  await page.getByText("Saved, but this browser does not say that it is on the disk.").waitFor();
  assert.equal(await page.getByText("Saved on this device.").count(), 0);
  await page.reload();
  await mounted(page);
  await page.getByText("Your best today: 43.5").waitFor();
  watch.assertCalm();
  await context.close();
});

test("a deleted test waits in the bin and can be brought back", async () => {
  const { page, watch, context } = await open();
  await savedTest(page, here.host.url);
  await press(page, "Delete this test");
  await page.getByText(/It stays in the bin/).waitFor();
  await page.goto(`${here.host.url}#/data`);
  await page.getByRole("heading", { name: "Bin" }).waitFor();
  await press(page, "Bring it back");
  await page.getByRole("heading", { name: "Bin" }).waitFor({ state: "detached" });
  await page.goto(`${here.host.url}#/tests`);
  await page.getByRole("link", { name: /43\.5/ }).waitFor();
  await page.reload();
  await page.getByRole("link", { name: /43\.5/ }).waitFor();
  watch.assertCalm();
  await context.close();
});

test("a tab closed half-way is offered again in a new tab, with all its readings", async () => {
  const { page, context } = await open();
  const person = await firstOpen(page, here.host.url);
  await passReady(person);
  await person.press("Go to the reach");
  for (const reach of ["224", "225", "224.5"]) await keep(page, reach);
  await press(page, "Go on to the jumps");
  await page.getByRole("button", { name: "No", exact: true }).click();
  await keep(page, "265.5");
  await page.getByRole("button", { name: /^Trial 1, 41\.0/ }).waitFor();
  await page.close({ runBeforeUnload: true });

  const next = await context.newPage();
  await next.goto(here.host.url);
  await next.getByText("A test of Me is not finished.").waitFor();
  await press(next, "Go on with your test");
  await next.getByRole("button", { name: /^Trial 1, 41\.0/ }).waitFor();
  await context.close();
});

test("a test saved in one tab shows in another that is open", async () => {
  const { page, context } = await open();
  const other = await context.newPage();
  await other.goto(`${here.host.url}#/tests`);
  await other.getByText("No tests yet.").waitFor();
  // A tab behind another one is not drawn, and a click waits for it to be drawn.
  await page.bringToFront();
  await savedTest(page, here.host.url);
  await other.getByRole("link", { name: /43\.5/ }).waitFor();
  await context.close();
});

test("a damaged record is put aside and said, and the other tests stay", async () => {
  const { page, watch, context } = await open();
  await savedTest(page, here.host.url);
  // Like no other text: the start alone is that of every test.
  const half = '{"v":1,"k":"t","i":"torn';
  const key = await page.evaluate((text) => {
    const kept = Object.keys(localStorage).find((name) => name.startsWith("two-marks/r/t/"));
    const beside = `${kept.slice(0, -2)}zz`;
    localStorage.setItem(beside, text);
    return beside;
  }, half);
  // One opening of the page, not two: what is put aside is said once.
  await page.goto("about:blank");
  await page.goto(here.host.url);
  await mounted(page);
  await page.getByText("1 record could not be read.").waitFor();
  const texts = await page.evaluate(() => Object.values(localStorage));
  assert.ok(texts.some((text) => text.includes(half)), `what was at ${key} is gone`);
  await follow(page, "All tests");
  await page.getByRole("link", { name: /43\.5/ }).waitFor();
  watch.assertCalm();
  await context.close();
});

test("a name that looks like a program is shown as a name", async () => {
  const { page, watch, context } = await open();
  const name = "<img src=x onerror=alert(1)>";
  await page.goto(here.host.url);
  await press(page, "Start a test");
  await page.getByLabel("Name or nickname").fill(name);
  await page.getByRole("radio", { name: "18 or over" }).click();
  await press(page, "Go to the ready check");
  await heading(page, "Ready check");
  await page.goto(`${here.host.url}#/`);
  await page.getByRole("button", { name }).waitFor();
  assert.equal(await page.locator("img").count(), 0);
  watch.assertSealed(here.host.origin);
  watch.assertCalm();
  await context.close();
});

test("a test brought back survives a killed browser", async () => {
  const place = scratch();
  const first = await startProfile(place.folder, LOCALE);
  await savedTest(first.page, here.host.url);
  await press(first.page, "Delete this test");
  await first.page.getByText(/It stays in the bin/).waitFor();
  await press(first.page, "Bring it back");
  await saved(first.page);
  await first.kill();

  const second = await startProfile(place.folder, LOCALE);
  await second.page.goto(`${here.host.url}#/tests`);
  await second.page.getByRole("link", { name: /43\.5/ }).waitFor();
  await second.stop();
  place.release();
});
