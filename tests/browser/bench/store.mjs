// A store of 10,000 tests of 100 invented people: what it takes and how quick it stays.
//
// `cargo xtask bench` puts its lines into docs/speed.md. Alone, it prints them:
//
//   node tests/browser/bench/store.mjs
//
// A short store, for trying the script: TESTS=1000 node tests/browser/bench/store.mjs

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";

import { keptOffline, mounted, press, startBrowser, startHost } from "../kit.mjs";
import { heading, keep, savedTest, taps } from "../steps.mjs";
import { fillClass, noteStart, openClass, saveCost, several, spread, startedAt } from "./page.mjs";
import { CHROME_4X, inPage, openSlow } from "./slow.mjs";

const PEOPLE = 100;
const TESTS = Number(process.env.TESTS ?? 10_000);
const PUPILS = 40;
/** Whose tests are looked at. Under 18, so that the reach is measured anew. */
const SHOWN = 42;
/** Longest wait for a piece of work on the whole store. */
const LONG = { timeout: 600_000 };

const ALPHABET = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_";

// A small generator with a fixed seed (Park and Miller, 1988), so that every run stores the same.
let state = 20_261_126;
const random = (below) => {
  state = (state * 48_271) % 2_147_483_647;
  return state % below;
};
// The last of 22 signs holds two bits only.
const id = () => [...Array(21)].map(() => ALPHABET[random(64)]).join("") + "AQgw"[random(4)];

/** The whole store as the text of a backup file. */
function backup() {
  const records = [];
  for (let person = 1; person <= PEOPLE; person += 1) {
    const own = id();
    const born = person === SHOWN ? 201005 : (1960 + random(50)) * 100 + 1 + random(12);
    records.push({ v: 1, k: "p", i: own, l: own.slice(0, 4), r: 1, e: 1, name: `Person ${person}`, born, u: "cm/2" });
    for (let test = 0; test < TESTS / PEOPLE; test += 1) {
      const day = new Date(Date.UTC(2025, 0, 1 + test * 5 + random(4)));
      records.push({
        v: 1,
        k: "t",
        i: id(),
        p: own.slice(0, 4),
        r: 1,
        e: 1_735_700_000_000 + random(2_000_000_000),
        d: Number(day.toISOString().slice(0, 10).replaceAll("-", "")),
        m: 480 + random(720),
        o: 120,
        u: "cm/2",
        reach: [0, 1, 2].map(() => 2240 + 5 * random(3)),
        trials: [0, 1, 2].map(() => 2640 + 5 * random(8)),
      });
    }
  }
  return JSON.stringify({ kind: "two-marks backup", version: 1, records });
}

async function timed(work) {
  const from = performance.now();
  await work();
  return performance.now() - from;
}

const pick = (page, text) =>
  page
    .locator("#restore-file")
    .setInputFiles({ name: "big.json", mimeType: "application/json", buffer: Buffer.from(text) });

async function toData(page, url) {
  await page.goto(`${url}#/data`);
  await heading(page, "Your data");
}

/** Restores the file, and says how long the list of what it would do and the restore took. */
async function restore(page, url, text) {
  await toData(page, url);
  const list = await timed(async () => {
    await pick(page, text);
    await page.getByRole("button", { name: "Restore this" }).waitFor(LONG);
  });
  const done = await timed(async () => {
    await press(page, "Restore this");
    await page.getByText("Restored.", { exact: true }).waitFor(LONG);
  });
  return { list, done };
}

/** Saves a backup, and reads it back far enough to know that it holds everything. */
async function backUp(page, url) {
  await toData(page, url);
  let file = "";
  const time = await timed(async () => {
    const coming = page.waitForEvent("download", LONG);
    await press(page, "Save a backup file");
    file = readFileSync(await (await coming).path(), "utf8");
  });
  await pick(page, file);
  const same = page.getByText(/records are the same/);
  await same.waitFor(LONG);
  // Everybody with all their tests, and the first test with its person.
  const counted = Number((await same.textContent()).replace(/\D/g, ""));
  assert.equal(counted, TESTS + PEOPLE + 2, "records in the backup");
  await press(page, "Not now");
  return { time, bytes: file.length };
}

/** The start of the page, from an empty tab. */
async function start(page, url) {
  await page.goto("about:blank");
  await page.goto(url);
  return startedAt(page);
}

/** A test of whoever is shown, typed up to the page that shows all readings. */
async function typeTest(page, url) {
  await page.goto(`${url}#/`);
  await press(page, "Start a test");
  const person = taps(page);
  for (const question of ["unwell", "fits", "legs"]) await person.no(question);
  await person.tick("All of this is true");
  await person.press("Go to warm-up");
  await person.press("I am warm");
  await person.press("Go to the reach");
  for (const reach of ["224", "225", "224.5"]) await keep(page, reach);
  await press(page, "Go on to the jumps");
  await page.getByRole("button", { name: "No", exact: true }).click();
  for (const mark of ["265.5", "266.5", "268", "267.5"]) await keep(page, mark);
  await press(page, "Check the readings");
}

/** Goes home, and from there to a page by its link. */
async function opened(page, url, link, title) {
  await page.goto(`${url}#/`);
  await page.locator(`a[href="${link}"]`).first().waitFor();
  return inPage(page, `a[href="${link}"]`, title);
}

/** Everything measured of the store: lines of what, which kind of value, and the value. */
export async function store(browser, url) {
  const { context, page, slow } = await openSlow(browser, { rate: 1, acceptDownloads: true });
  const lines = [];
  const say = (what, kind, value) => lines.push({ what, kind, value });
  await noteStart(page);
  // One own test first, so that the store is not an empty one.
  await savedTest(page, url);
  await keptOffline(page);

  const restored = await restore(page, url, backup());
  const units = await page.evaluate(() =>
    Object.entries(localStorage).reduce((sum, [key, value]) => sum + key.length + value.length, 0),
  );
  say(`stored: ${TESTS + 1} tests of ${PEOPLE + 1} people, in UTF-16 units`, "count", units);
  say("the same for each test", "count", units / (TESTS + 1));
  say("list of what a restore would do", "ms", restored.list);
  say("restore, until the page says so", "ms", restored.done);
  const backed = await backUp(page, url);
  say("backup, until the browser has the file", "ms", backed.time);
  say("size of that file", "bytes", backed.bytes);

  say("start of the page", "ms", spread(await several(() => start(page, url))));
  await slow(CHROME_4X);
  say("start of the page, processor 4 times slower", "ms", spread(await several(() => start(page, url))));

  const name = `Person ${SHOWN}`;
  const times = await several(async () => {
    await page.goto("about:blank");
    await page.goto(url);
    const chip = page.getByRole("button", { name, exact: true });
    await chip.waitFor();
    return timed(async () => {
      await chip.click();
      await page.locator('button[aria-pressed="true"]', { hasText: name }).waitFor();
    });
  });
  say("choosing another person, 4 times slower", "ms", spread(times));
  const list = await several(() => opened(page, url, "#/tests", "All tests"));
  say(`opening the list of ${TESTS / PEOPLE} tests of one person, 4 times slower`, "ms", spread(list));
  await page.goto(`${url}#/tests`);
  await heading(page, "All tests");
  say("rows of that list in the page", "count", await page.locator("tbody tr").count());
  const season = await several(() => opened(page, url, "#/season", "Season"));
  say("opening the season of the same person, 4 times slower", "ms", spread(season));

  await slow(1);
  await typeTest(page, url);
  await slow(CHROME_4X);
  const saved = await saveCost(page);
  say("saving a test: our own work in the tap, 4 times slower", "ms", saved.work);
  say('saving a test: until "saved" is shown, 4 times slower', "ms", saved.shown);
  say("saving a test: written to store and journal, in UTF-16 units", "count", saved.store + saved.journal);

  await slow(1);
  await fillClass(page, url, PUPILS);
  await slow(CHROME_4X);
  const table = await openClass(page, url);
  say(`opening a class of ${PUPILS} beside it, 4 times slower`, "ms", table);
  say("rows of its table in the page", "count", table.rows);
  await context.close();
  return lines;
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const host = await startHost();
  const browser = await startBrowser();
  try {
    console.log(JSON.stringify(await store(browser, host.url), null, 1));
  } finally {
    await browser.stop();
    await host.stop();
  }
}
