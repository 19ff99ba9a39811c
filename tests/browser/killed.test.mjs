// What the page says is saved, or deleted, stays so when the browser is killed at once.

import assert from "node:assert/strict";
import { after, before, test } from "node:test";

import { arrived, mounted, press, scratch, startBrowser, startHost, startProfile } from "./kit.mjs";
import { LOCALE, firstOpen, heading, keep, passReady, saved, wholeTest } from "./steps.mjs";

let host;
before(async () => {
  host = await startHost();
});
after(() => host?.stop());

test("a saved test and a deleted test survive a killed browser", async () => {
  const place = scratch();
  const first = await startProfile(place.folder, LOCALE);
  await wholeTest(first.page, host.url);
  await press(first.page, "Save result");
  await saved(first.page);
  await first.kill();

  const second = await startProfile(place.folder, LOCALE);
  await second.page.goto(`${host.url}#/tests`);
  await mounted(second.page);
  const row = second.page.getByRole("link", { name: /43\.5/ });
  await row.waitFor();
  await row.click();
  await press(second.page, "Delete this test");
  await second.page.getByText(/It stays in the bin/).waitFor();
  await second.kill();

  const third = await startProfile(place.folder, LOCALE);
  await third.page.goto(`${host.url}#/tests`);
  await mounted(third.page);
  await third.page.getByText("No tests yet.").waitFor();
  assert.equal(await third.page.getByRole("link", { name: /43\.5/ }).count(), 0);
  await third.stop();
  place.release();
});

/** From the ready check to three kept trials and a foul, as the page says that each is kept. */
async function threeTrialsAndAFoul(page) {
  const person = await firstOpen(page, host.url);
  await passReady(person);
  await person.press("Go to the reach");
  for (const reach of ["224", "225", "224,5"]) {
    await keep(page, reach);
    await page.getByText(/^Reach 22\d.* is kept\.$/).waitFor();
  }
  await press(page, "Go on to the jumps");
  await page.getByRole("button", { name: "No", exact: true }).click();
  for (const [at, mark] of ["265.5", "266.5", "268"].entries()) {
    await keep(page, mark);
    await page.getByText(new RegExp(`^Trial ${at + 1} is kept: 4`)).waitFor();
  }
  await press(page, "Foul");
  await press(page, "Missed the wall");
  await page.getByText("Trial 4 is kept: foul.").waitFor();
}

/** A new tab goes on with the test where it was kept. */
async function goesOn(page) {
  await page.goto(`${host.url}#/`);
  await mounted(page);
  await press(page, "Go on with your test");
  await heading(page, "Jumps");
  for (const name of ["Trial 1, 41", "Trial 2, 42", "Trial 3, 43.5", "Trial 4, foul"]) {
    await page.getByRole("button", { name }).waitFor();
  }
}

test("what was kept of a test survives the crash of its tab", async () => {
  const { open, stop } = await startBrowser();
  try {
    const { page, context } = await open(LOCALE);
    await threeTrialsAndAFoul(page);
    const session = await context.newCDPSession(page);
    const gone = page.waitForEvent("crash");
    session.send("Page.crash").catch(() => {});
    await gone;
    await goesOn(await context.newPage());
    await context.close();
  } finally {
    await stop();
  }
});

test("what was kept of a test survives a browser that is killed at once", async () => {
  const place = scratch();
  const first = await startProfile(place.folder, LOCALE);
  await threeTrialsAndAFoul(first.page);
  await first.kill();
  const second = await startProfile(place.folder, LOCALE);
  await goesOn(second.page);
  // Thrown away on purpose it stays away, though the journal knew of it.
  await second.page.goto(`${host.url}#/`);
  await press(second.page, "Start again");
  await second.page.getByRole("button", { name: "Start a test" }).waitFor();
  await second.page.reload();
  await mounted(second.page);
  await second.page.getByRole("button", { name: "Start a test" }).waitFor();
  await second.stop();
  place.release();
});

/** In the page: after so many changes of the browser's stores the script stands still, and says so. */
function standStillAfter(changes) {
  let left = changes;
  const stop = () => {
    if (left > 0) return;
    console.log("stands still");
    for (;;);
  };
  for (const name of ["setItem", "removeItem"]) {
    const real = Storage.prototype[name];
    Storage.prototype[name] = function (...words) {
      stop();
      real.apply(this, words);
      left -= 1;
    };
  }
}

test("a tab killed at any moment of a save leaves the test saved once, or its draft", async () => {
  const { open, stop } = await startBrowser();
  const first = await open(LOCALE);
  await wholeTest(first.page, host.url);
  const typed = await first.context.storageState();
  await first.context.close();
  const seen = { draft: 0, saved: 0 };
  try {
    for (let changes = 0, done = false; !done; changes += 1) {
      const { page, context } = await open({ ...LOCALE, storageState: typed });
      const session = await context.newCDPSession(page);
      await page.goto(`${host.url}#/check`);
      await arrived(page);
      await page.evaluate(standStillAfter, changes);
      const still = page.waitForEvent("console", (said) => said.text() === "stands still");
      const through = saved(page);
      // Whichever does not come ends with the tab.
      for (const one of [still, through]) one.catch(() => {});
      page.getByRole("button", { name: "Save result" }).click().catch(() => {});
      done = (await Promise.race([still.then(() => "still"), through.then(() => "through")])) === "through";
      const gone = page.waitForEvent("crash");
      // Ends this tab's process, even while its script stands still, as a device does that needs the
      // memory. Killing every process that draws pages would take one held ready for the next tab too:
      // the browser hands it out before it knows that it is dead, and the new tab never comes.
      session.send("Page.crash").catch(() => {});
      await gone;

      const next = await context.newPage();
      await next.goto(`${host.url}#/tests`);
      await arrived(next);
      const rows = () => next.getByRole("link", { name: /43\.5/ }).count();
      const before = await rows();
      await next.goto(`${host.url}#/`);
      await next.getByRole("button", { name: /Start a test|Go on with your test/ }).waitFor();
      const drafted = (await next.getByText("A test of Me is not finished.").count()) > 0;
      assert.ok(drafted || before === 1, `after ${changes} changes neither the test nor its draft is there`);
      if (drafted) {
        seen.draft += 1;
        await press(next, "Go on with your test");
        await next.goto(`${host.url}#/check`);
        await press(next, "Save result");
        await saved(next);
      } else {
        seen.saved += 1;
      }
      await next.goto(`${host.url}#/tests`);
      await next.getByRole("link", { name: /43\.5/ }).first().waitFor();
      assert.equal(await rows(), 1, `after ${changes} changes`);
      await context.close();
    }
  } finally {
    await stop();
  }
  assert.ok(seen.draft > 0 && seen.saved > 1, `both ends were seen: ${JSON.stringify(seen)}`);
});
