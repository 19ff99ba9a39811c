// A store of 10,000 tests of 100 invented people: what it takes and how quick it stays. Prints a few
// lines of text; `cargo xtask bench` puts them into docs/speed.md.
//
//   node tests/browser/bench/store.mjs
//
// A short store, for trying the script: TESTS=1000 node tests/browser/bench/store.mjs

import { readFileSync } from "node:fs";

import { keptOffline, mounted, press, startBrowser, startHost } from "../kit.mjs";
import { heading, LOCALE, saved, wholeTest } from "../steps.mjs";
import { CHROME_4X, inPage } from "./slow.mjs";
import { median, RUNS } from "./numbers.mjs";

const PEOPLE = 100;
const TESTS = Number(process.env.TESTS ?? 10_000);
const EACH = TESTS / PEOPLE;

const ALPHABET = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_";

// A small generator with a fixed seed (Park and Miller, 1988), so that every run stores the same.
let state = 20_261_126;
const random = (below) => {
  state = (state * 48_271) % 2_147_483_647;
  return state % below;
};
// The last of 22 signs holds two bits only.
const id = () => [...Array(21)].map(() => ALPHABET[random(64)]).join("") + "AQgw"[random(4)];

function backup() {
  const records = [];
  for (let person = 0; person < PEOPLE; person += 1) {
    const own = id();
    const born = (1960 + random(50)) * 100 + 1 + random(12);
    records.push({ v: 1, k: "p", i: own, l: own.slice(0, 4), r: 1, e: 1, name: `Person ${person + 1}`, born, u: "cm/2" });
    const reach = 1900 + 5 * random(120);
    for (let test = 0; test < EACH; test += 1) {
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
        reach: [0, 1, 2].map(() => reach + 5 * random(3)),
        trials: [0, 1, 2].map(() => reach + 350 + 5 * random(20)),
      });
    }
  }
  return JSON.stringify({ kind: "two-marks backup", version: 1, records });
}

const host = await startHost();
const { open, stop } = await startBrowser();
const { page, context } = await open({ ...LOCALE, acceptDownloads: true });
const session = await context.newCDPSession(page);
const slow = (rate) => session.send("Emulation.setCPUThrottlingRate", { rate });

const seconds = (ms) => (ms >= 1000 ? `${(ms / 1000).toFixed(1)} s` : `${Math.round(ms)} ms`);
const lines = [];
const say = (what, value) => lines.push(`${what.padEnd(66)} ${value}`);
async function timed(work) {
  const from = performance.now();
  await work();
  return performance.now() - from;
}
async function several(work) {
  const times = [];
  for (let run = 0; run < RUNS; run += 1) times.push(await work());
  return `${seconds(median(times))} (${seconds(Math.min(...times))} – ${seconds(Math.max(...times))})`;
}

// One own test first, so that the pages have somebody to show.
await wholeTest(page, host.url);
await press(page, "Save result");
await saved(page);
await keptOffline(page);
await page.goto(`${host.url}#/data`);
await heading(page, "Your data");
const text = backup();
const file = { name: "big.json", mimeType: "application/json", buffer: Buffer.from(text) };
const preview = await timed(async () => {
  await page.locator("#restore-file").setInputFiles(file);
  await page.getByRole("button", { name: "Restore this" }).waitFor();
});
const restore = await timed(async () => {
  await press(page, "Restore this");
  await page.getByText("Restored.", { exact: true }).waitFor({ timeout: 600_000 });
});
const units = await page.evaluate(() =>
  Object.entries(localStorage).reduce((sum, [key, value]) => sum + key.length + value.length, 0),
);
say(`stored, ${TESTS + 1} tests of ${PEOPLE + 1} people`, `${units.toLocaleString("en")} UTF-16 units (quota 5 million; line 2.5 million)`);
say("the same for each test", `${Math.round(units / (TESTS + 1))} units`);
say("list of what a restore would do", seconds(preview));
say("restore, until it says so", seconds(restore));

let size = 0;
const save = await timed(async () => {
  const coming = page.waitForEvent("download", { timeout: 600_000 });
  await press(page, "Save a backup file");
  size = readFileSync(await (await coming).path()).length;
});
say(`backup, ${(size / 1e6).toFixed(1)} MB, until the browser has the file`, seconds(save));

const start = () =>
  timed(async () => {
    await page.goto(host.url);
    await page.reload();
    await mounted(page);
  });
say("start of the page", await several(start));
await slow(CHROME_4X);
say("start of the page, processor 4 times slower", await several(start));

// The list of one person with a hundred tests, and the rows that it puts into the page.
await page.goto(`${host.url}#/who`);
await page.getByRole("radio", { name: "Person 42", exact: true }).check();
const rows = async (link, title) => {
  await page.goto(`${host.url}#/`);
  await page.locator(`a[href="${link}"]`).first().waitFor();
  return inPage(page, `a[href="${link}"]`, title);
};
say("opening the list of a person's 100 tests, 4 times slower", await several(() => rows("#/tests", "All tests")));
await page.goto(`${host.url}#/tests`);
await heading(page, "All tests");
say("rows of it in the page", String(await page.locator("tbody tr").count()));
say("opening the same person's season, 4 times slower", await several(() => rows("#/season", "Season")));
console.log(lines.join("\n"));
await context.close();
await stop();
await host.stop();
