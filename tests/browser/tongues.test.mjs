// The page in other languages: nothing that a language needs is said in English only, nothing is too
// long for a small screen, a mirrored page is mirrored, and a language costs nobody else a byte.

import assert from "node:assert/strict";
import { test } from "node:test";

import { arrived, keptOffline, mounted } from "./kit.mjs";
import { stage } from "./steps.mjs";
import { routesOf, shows, WALKS } from "./states.mjs";
import { catalogue, look, madeUp, madeUpPack, packs, saidIn, speak, translator } from "./tongues.mjs";

const here = stage();
const files = packs();
const tags = [...files.keys()];
const [first] = tags;

/** A page without a worker, in a language chosen on an earlier visit. */
async function reader(tag, settings = {}) {
  const opened = await here.open({ serviceWorkers: "block", ...settings });
  const choose = (chosen) => localStorage.setItem("two-marks/language", JSON.stringify(chosen));
  if (tag) await opened.page.addInitScript(choose, tag);
  return opened;
}

const WIDTHS = [320, 390];
const settled = (page) =>
  page.evaluate(() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done))));

/** What is wrong with what is seen, at both widths. */
async function faults(page, name, isSame) {
  const found = [];
  for (const width of WIDTHS) {
    await page.setViewportSize({ width, height: 844 });
    await settled(page);
    const { wrong, texts } = await page.evaluate(look);
    found.push(...wrong.map((what) => `${name} at ${width}: ${what}`));
    const leaks = isSame ? texts.filter((text) => !isSame(text)) : [];
    found.push(...leaks.map((text) => `${name}: in English: ${text}`));
  }
  return found;
}

/** All walks in the made-up language. */
async function walkAll(pack, visit) {
  const translate = translator(madeUp());
  const visited = [];
  for (const [title, walk] of Object.entries(WALKS)) {
    const { page, context, watch } = await reader(first);
    await page.route(`**/${files.get(first)}`, (route) => route.fulfill({ body: pack }));
    try {
      await walk(speak(page, translate), here.host.url, async (name) => {
        visited.push(name);
        await visit(page, name);
      });
    } catch (error) {
      console.log(`WALK ${title} after ${visited.at(-1)}: ${error.message}`);
    }
    watch.assertSealed(here.host.origin);
    watch.assertCalm();
    await context.close();
  }
  const unseen = routesOf().filter((route) => !visited.some(shows(route)));
  assert.deepEqual(unseen, [], "routes on no walk");
}

test("a lengthened language", async () => {
  const found = [];
  await walkAll(madeUpPack(), async (page, name) => {
    console.log(name, Date.now() % 1e6);
    found.push(...(await faults(page, name, saidIn(first))));
  });
  console.log([...new Set(found)].join("\n"));assert.deepEqual([...new Set(found)].length, 0);
});
