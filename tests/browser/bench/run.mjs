// Measures the finished page and the floor, and writes the table of docs/speed.md.
//
//   node run.mjs PAGE FLOOR CRITERION OUTPUT [LIGHTHOUSE]
//
// Started by `cargo xtask bench`. Times wobble: nothing here is a check.

import { cpSync, existsSync, readFileSync, readdirSync, statSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { brotliCompressSync, constants } from "node:zlib";

import { scratch, startBrowser, startHost } from "../kit.mjs";
import { coreTimes } from "./core.mjs";
import { lighthouse } from "./lighthouse.mjs";
import { firstTap, offlineStart, save, season, table, worstInteraction } from "./page.mjs";
import { firstLoad, sizes } from "./sizes.mjs";
import { store } from "./store.mjs";
import { document } from "./report.mjs";

const [, , page, floor, criterion, output, lighthouseScript] = process.argv;

/** Beside each file its Brotli form, which the project's host then sends. */
function packed(from) {
  const place = scratch("two-marks-bench-");
  cpSync(from, place.folder, { recursive: true });
  for (const name of readdirSync(place.folder, { recursive: true })) {
    const file = join(place.folder, name);
    if (!statSync(file).isFile() || name.endsWith(".br") || existsSync(`${file}.br`)) continue;
    const best = { params: { [constants.BROTLI_PARAM_LGWIN]: 24 } };
    writeFileSync(`${file}.br`, brotliCompressSync(readFileSync(file), best));
  }
  return place;
}

/** Measures one after the other, and says which part is under way. */
async function measure(name, work) {
  console.log(`   ${name}`);
  try {
    return await work();
  } catch (error) {
    // Reported as not measured: one part that fails takes no other with it.
    console.log(`   NOT MEASURED: ${name}: ${error.message}`);
    return undefined;
  }
}

const places = [packed(page), packed(floor)];
const [host, floorHost] = [
  await startHost({ folder: places[0].folder }),
  await startHost({ folder: places[1].folder }),
];
const browser = await startBrowser();
const script = lighthouseScript;
const result = {
  browserVersion: browser.browser.version(),
  page: { files: sizes(page), first: firstLoad(page) },
  floor: { files: sizes(floor), first: firstLoad(floor) },
  core: coreTimes(criterion),
};
result.page.lighthouse = await measure("Lighthouse, page", () => lighthouse(script, host.url));
result.floor.lighthouse = await measure("Lighthouse, floor", () => lighthouse(script, floorHost.url));
result.page.firstTap = await measure("first tap, page", () => firstTap(browser, host.url, "#main-action"));
result.floor.firstTap = await measure("first tap, floor", () => firstTap(browser, floorHost.url, "#first"));
result.interaction = await measure("worst interaction", () => worstInteraction(browser, host.url));
result.offline = await measure("offline start", () => offlineStart(browser, host));
result.season = await measure("season of 300", () => season(browser, host.url, 300));
result.save = await measure("saving a test", () => save(browser, host.url));
result.table = await measure("class table of 40", () => table(browser, host.url, 40));
result.store = await measure("store of 10,000", () => store(browser, host.url));
await browser.stop();
for (const one of [host, floorHost]) await one.stop();
for (const place of places) place.release();
const text = document(result);
writeFileSync(output, text);
console.log(`\n${text}`);
