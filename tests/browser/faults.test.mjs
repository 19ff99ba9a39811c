// Everything that can go wrong around a page that keeps records for years: each fault is provoked,
// and nothing is lost. Killed browsers are in killed.test.mjs, blocked storage in flow.test.mjs and
// guarded.test.mjs, damaged records and closed tabs in safe.test.mjs, workers in start.test.mjs.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";

import { mounted, press, until } from "./kit.mjs";
import {
  heading,
  keep,
  refuseWrites,
  saved,
  savedTest,
  stage,
  takeWrites,
  taps,
} from "./steps.mjs";

const here = stage();
const { open } = here;

/** Everything the browser keeps for the page, drafts and settings left out. */
const records = (page) =>
  page.evaluate(() =>
    Object.fromEntries(
      Object.entries(localStorage).filter(([key]) => key.startsWith("two-marks/r/")),
    ),
  );

/** The row of a saved test in the list. */
const row = (page, height = /43\.5/) => page.getByRole("link", { name: height }).first();

async function toData(page) {
  await page.goto(`${here.host.url}#/data`);
  await heading(page, "Your data");
}

/** Saves a backup and returns its text. */
async function backupOf(page) {
  await toData(page);
  const coming = page.waitForEvent("download");
  await press(page, "Save a backup file");
  return readFileSync(await (await coming).path(), "utf8");
}

/** A second test of the same person, up to the standing reach. */
async function beginAgain(page) {
  await page.goto(here.host.url);
  await press(page, "Start a test");
  const person = taps(page);
  for (const question of ["unwell", "fits", "legs"]) await person.no(question);
  await person.tick("All of this is true");
  await person.press("Go to warm-up");
  await person.press("I am warm");
  await person.press("Go to the reach");
}

/** The rest of that test, up to the page that shows all readings. */
async function measureAgain(page) {
  for (const reach of ["224", "225", "224.5"]) await keep(page, reach);
  await press(page, "Go on to the jumps");
  await page.getByRole("button", { name: "No", exact: true }).click();
  for (const mark of ["265.5", "266.5", "268"]) await keep(page, mark);
  await press(page, "Finish");
}

async function pickBackup(page, text) {
  const file = { name: "backup.json", mimeType: "application/json", buffer: Buffer.from(text) };
  await page.locator("#restore-file").setInputFiles(file);
}

test("a write waits until another tab is done writing", async () => {
  const { page, context } = await open();
  await savedTest(page, here.host.url);
  const before = await records(page);
  await page.evaluate(() => {
    const hold = () => new Promise((release) => (globalThis.release = release));
    return new Promise((held) => {
      navigator.locks.request("two-marks", () => {
        held();
        return hold();
      });
    });
  });
  const waiting = () =>
    until(page, async () => (await navigator.locks.query()).pending.length > 0);
  await press(page, "Delete this test");
  await waiting();
  assert.deepEqual(await records(page), before, "written while another tab wrote");
  await page.evaluate(() => globalThis.release());
  await page.getByText(/It stays in the bin/).waitFor();
  await context.close();
});

test("two tabs that delete and bring back lose nothing", async () => {
  const { page, context } = await open();
  await savedTest(page, here.host.url);
  const other = await context.newPage();
  await other.goto(page.url());
  await mounted(other);
  await other.getByText("Your best today: 43.5").waitFor();
  await press(other, "Delete this test");
  await other.getByText(/It stays in the bin/).waitFor();
  await page.bringToFront();
  // The other tab has heard of it and no longer offers what is gone.
  await page.getByRole("button", { name: "Delete this test" }).waitFor({ state: "detached" });
  await toData(page);
  await press(page, "Bring it back");
  await page.goto(`${here.host.url}#/tests`);
  await row(page).waitFor();
  assert.equal(await page.getByRole("link", { name: /43\.5/ }).count(), 1);
  await context.close();
});

test("a browser that is full keeps every record, and a backup can still be saved", async () => {
  const { page, context } = await open();
  await savedTest(page, here.host.url);
  const before = await records(page);
  // Truly full: the browser's own limit, not a stub.
  await page.evaluate(() => {
    let size = 1 << 20;
    for (let at = 0; size > 0; at += 1) {
      try {
        localStorage.setItem(`filler/${at}`, "x".repeat(size));
      } catch {
        size >>= 1;
      }
    }
  });
  await beginAgain(page);
  await measureAgain(page);
  await press(page, "Save result");
  await page.getByText("There is no room left in this browser.").waitFor();
  assert.deepEqual(await records(page), before);
  const file = JSON.parse(await backupOf(page));
  assert.equal(file.records.length, Object.keys(before).length);
  await page.evaluate(() => {
    for (const key of Object.keys(localStorage)) {
      if (key.startsWith("filler/")) localStorage.removeItem(key);
    }
  });
  await page.goto(`${here.host.url}#/check`);
  await press(page, "Save result");
  await saved(page);
  await context.close();
});

test("a record of a newer version stays as it is, and goes into a backup", async () => {
  const { page, watch, context } = await open();
  await savedTest(page, here.host.url);
  const newer = '{"v":9,"k":"t","later":{"a":[1]}}';
  await page.evaluate((text) => localStorage.setItem("two-marks/r/t/zzzzzz", text), newer);
  await page.goto(here.host.url);
  await page.reload();
  await page.getByText("1 record is from a newer version.").waitFor();
  const file = JSON.parse(await backupOf(page));
  assert.ok(file.records.some((record) => record.v === 9), "not in the backup");
  assert.equal((await records(page))["two-marks/r/t/zzzzzz"], newer);
  watch.assertCalm();
  await context.close();
});

test("an old page leaves settings, drafts and records of a newer page alone", async () => {
  const { page, watch, context } = await open();
  await savedTest(page, here.host.url);
  const later = {
    "two-marks/d": '{"v":9,"k":"d","new":1}',
    "two-marks/s": '{"v":9,"k":"s","new":1}',
    "two-marks/r/p/zzzz": '{"v":9,"k":"p","new":1}',
  };
  await page.evaluate((entries) => {
    for (const [key, value] of Object.entries(entries)) localStorage.setItem(key, value);
  }, later);
  await page.goto(here.host.url);
  await page.reload();
  await mounted(page);
  // A second test writes a draft and the settings of its own; what the newer page wrote meanwhile,
  // after this one was opened, is there no less.
  await beginAgain(page);
  const meanwhile = '{"v":9,"k":"d","new":2}';
  await page.evaluate((text) => localStorage.setItem("two-marks/d", text), meanwhile);
  await measureAgain(page);
  await press(page, "Save result");
  await saved(page);
  later["two-marks/d (written meanwhile)"] = meanwhile;
  const own = await page.evaluate(() => localStorage.getItem("two-marks/s"));
  assert.match(own, /"v":1,/, "the page wrote no settings, so nothing was shown");
  await page.goto(`${here.host.url}#/tests`);
  await row(page).waitFor();
  const texts = await page.evaluate(() => Object.values(localStorage));
  for (const [key, text] of Object.entries(later)) assert.ok(texts.includes(text), `${key} is gone`);
  watch.assertCalm();
  await context.close();
});

for (const [name, instant] of [
  ["years behind", "2001-01-01T00:00:00Z"],
  ["years ahead", "2061-01-01T00:00:00Z"],
]) {
  test(`a clock that is ${name} loses nothing and throws nothing away`, async () => {
    const { page, context } = await open();
    await savedTest(page, here.host.url);
    await press(page, "Delete this test");
    await page.getByText(/It stays in the bin/).waitFor();
    const before = await records(page);
    const deleted = await backupOf(page);
    const wrong = await context.newPage();
    await wrong.clock.setFixedTime(instant);
    await wrong.goto(`${here.host.url}#/data`);
    await wrong.getByRole("heading", { name: "Bin" }).waitFor();
    assert.deepEqual(await records(wrong), before, "the bin emptied itself");
    await press(wrong, "Bring it back");
    await wrong.goto(`${here.host.url}#/tests`);
    await row(wrong).waitFor();
    await wrong.close();
    // With the right clock again the edit made under the wrong one still counts, also against the
    // deletion before it, which a file brings along.
    await page.bringToFront();
    await page.goto(`${here.host.url}#/tests`);
    await page.reload();
    await row(page).waitFor();
    await toData(page);
    await pickBackup(page, deleted);
    await page.getByText("1 record is newer here and stays").waitFor();
    await press(page, "Restore this");
    await page.getByText("Restored.").waitFor();
    await page.goto(`${here.host.url}#/tests`);
    await row(page).waitFor();
    await context.close();
  });
}

test("a test stays on its own day when the time zone changes", async () => {
  const first = await open({ timezoneId: "Pacific/Kiritimati" });
  await savedTest(first.page, here.host.url);
  await first.page.goto(`${here.host.url}#/tests`);
  const day = await row(first.page).textContent();
  const file = await backupOf(first.page);
  await first.context.close();

  const second = await open({ timezoneId: "Pacific/Pago_Pago" });
  await second.page.goto(here.host.url);
  await toData(second.page);
  await pickBackup(second.page, file);
  await press(second.page, "Restore this");
  await second.page.getByText("Restored.").waitFor();
  await second.page.goto(`${here.host.url}#/tests`);
  await row(second.page).waitFor();
  assert.equal(await row(second.page).textContent(), day);
  await second.context.close();
});

test("a restore on an empty browser brings everything back, and a second one changes nothing", async () => {
  const first = await open();
  await savedTest(first.page, here.host.url);
  const before = await records(first.page);
  const file = await backupOf(first.page);
  await first.context.close();

  const { page, watch, context } = await open();
  await page.goto(here.host.url);
  await toData(page);
  await pickBackup(page, file);
  await page.getByText("2 records are new").waitFor();
  assert.deepEqual(await records(page), {}, "written before it was asked for");
  await press(page, "Restore this");
  await page.getByText("Restored.").waitFor();
  assert.deepEqual(await records(page), before);
  await pickBackup(page, file);
  await page.getByText("2 records are the same").waitFor();
  await press(page, "Restore this");
  await page.getByText("Restored.").waitFor();
  assert.deepEqual(await records(page), before);
  watch.assertCalm();
  await context.close();
});

test("a conflict is shown with both versions before a restore", async () => {
  const { page, context } = await open();
  await savedTest(page, here.host.url);
  const file = JSON.parse(await backupOf(page));
  const tests = file.records.filter(({ k }) => k === "t");
  assert.equal(tests.length, 1);
  Object.assign(tests[0], { e: tests[0].e + 60_000, trials: [2655, 2665, 2700] });
  delete file.sum;
  await pickBackup(page, JSON.stringify(file));
  await page.getByText("This file has no check sum.").waitFor();
  const conflict = page.locator("#conflicts li");
  await conflict.getByText(/^Here: 43\.5/).waitFor();
  await conflict.getByText(/^In the file: 45\.5/).waitFor();
  await conflict.getByText("The one in the file counts. The one here goes to the bin.").waitFor();
  await press(page, "Restore this");
  await page.getByText("Restored.").waitFor();
  await page.getByText(/43\.5.*older version/).waitFor();
  await page.goto(`${here.host.url}#/tests`);
  await row(page, /45\.5/).waitFor();
  await context.close();
});

test("a restore that finds no room changes no record that is there", async () => {
  const { page, context } = await open();
  await savedTest(page, here.host.url);
  const before = await records(page);
  const file = JSON.parse(await backupOf(page));
  const [newer] = file.records.filter(({ k }) => k === "t");
  Object.assign(newer, { r: newer.r + 1, e: newer.e + 60_000, trials: [2655, 2665, 2700] });
  delete file.sum;
  await pickBackup(page, JSON.stringify(file));
  await page.getByText("1 record is newer in the file").waitFor();
  await page.evaluate(refuseWrites, "QuotaExceededError");
  await press(page, "Restore this");
  await page.getByText("Not all of it could be restored.").waitFor();
  assert.deepEqual(await records(page), before);
  await page.evaluate(takeWrites);
  await pickBackup(page, JSON.stringify(file));
  await press(page, "Restore this");
  await page.getByText("Restored.").waitFor();
  await page.goto(`${here.host.url}#/tests`);
  await row(page, /45\.5/).waitFor();
  await context.close();
});

test("a panic in the middle of a test loses neither the draft nor a saved test", async () => {
  const { page, context } = await open();
  await savedTest(page, here.host.url);
  await beginAgain(page);
  for (const reach of ["224", "225"]) await keep(page, reach);
  const before = await records(page);
  await page.evaluate(async () => {
    const wasm = document.querySelector('link[rel="preload"][as="fetch"]').href;
    const part = await import(wasm.replace(/_bg\.wasm$/, ".js"));
    try {
      part.two_marks_panic();
    } catch {
      // The panel belongs to a plain script, which has seen it.
    }
  });
  await page.getByRole("heading", { name: "Something broke on this page" }).waitFor();
  const coming = page.waitForEvent("download");
  await press(page, "Save a raw copy");
  const copy = JSON.parse(readFileSync(await (await coming).path(), "utf8"));
  assert.equal(copy.records.length, Object.keys(before).length);
  await press(page, "Reload");
  await mounted(page);
  await page.getByRole("button", { name: /Reach 2, 225/ }).waitFor();
  assert.deepEqual(await records(page), before);
  await context.close();
});

test("a network cut in the middle of the program can be tried again, and the records are there", async () => {
  const { page, context } = await open({ serviceWorkers: "block" });
  await savedTest(page, here.host.url);
  const before = await records(page);
  await page.route("**/*.wasm", async (route) => {
    const answer = await route.fetch();
    const body = await answer.body();
    await route.fulfill({ response: answer, body: body.subarray(0, body.length >> 1) });
  });
  await page.reload();
  await page.getByRole("heading", { name: "did not arrive in full" }).waitFor();
  assert.deepEqual(await records(page), before);
  await page.unrouteAll({ behavior: "wait" });
  await press(page, "Try again");
  await mounted(page);
  await page.goto(`${here.host.url}#/tests`);
  await row(page).waitFor();
  await context.close();
});

test("without a worker the page works and keeps its tests", async () => {
  const { page, watch, context } = await open();
  // The driver cannot stand between a page and its worker's file, so the browser is taken the feature.
  await page.addInitScript(() => delete Navigator.prototype.serviceWorker);
  await savedTest(page, here.host.url);
  await page.reload();
  await mounted(page);
  await page.getByText("Your best today: 43.5").waitFor();
  assert.equal(await page.evaluate(() => document.documentElement.dataset.offlineReady), undefined);
  assert.equal(await page.locator(".crash:not([hidden])").count(), 0, "the crash panel is shown");
  watch.assertCalm();
  await context.close();
});

test("a store emptied behind the open page gets its tests back from the journal", async () => {
  const { page, context } = await open();
  await savedTest(page, here.host.url);
  await page.evaluate(() => localStorage.clear());
  await page.goto(`${here.host.url}#/tests`);
  await page.reload();
  await row(page).waitFor();
  await context.close();
});
