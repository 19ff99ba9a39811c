// Takes a picture of every state on the walks of states.mjs, in five ways.
//
//   node shots.mjs FOLDER [part of a state's name ...]

import { mkdirSync, rmSync } from "node:fs";
import { join } from "node:path";
import assert from "node:assert/strict";
import { startBrowser, startHost, VIEWPORTS } from "./kit.mjs";
import { LOCALE } from "./steps.mjs";
import { WALKS } from "./states.mjs";

// Text at twice its size, as a person sets it in the browser: twice the default font size.
const BIG_TEXT = "--blink-settings=defaultFontSize=32,defaultFixedFontSize=26";

const WAYS = [
  { way: "phone", viewport: VIEWPORTS.phone },
  { way: "small-big-text", viewport: VIEWPORTS.small, args: [BIG_TEXT] },
  { way: "wide", viewport: VIEWPORTS.wide },
  { way: "dark", viewport: VIEWPORTS.phone, colorScheme: "dark" },
  { way: "sun", viewport: VIEWPORTS.phone, look: "sun" },
];

const [folder, ...wanted] = process.argv.slice(2);
assert.ok(folder, "usage: node shots.mjs FOLDER [part of a state's name ...]");
if (wanted.length === 0) rmSync(folder, { recursive: true, force: true });
mkdirSync(folder, { recursive: true });

const troubles = [];
const host = await startHost();
let pictures = 0;

for (const { way, args, viewport, colorScheme = "light", look } of WAYS) {
  const browser = await startBrowser({ args });
  for (const [walk, go] of Object.entries(WALKS)) {
    const { context, page } = await browser.open({
      ...LOCALE,
      viewport,
      colorScheme,
      reducedMotion: "reduce",
      serviceWorkers: "block",
      // To take a picture, the driver adds a style that the content policy refuses. The tests walk
      // the same ways with the policy on.
      bypassCSP: true,
    });
    if (look) {
      await page.addInitScript((name) => {
        localStorage.setItem("two-marks/theme", JSON.stringify(name));
      }, look);
    }
    try {
      await go(page, host.url, async (name) => {
        if (wanted.length > 0 && !wanted.some((part) => name.includes(part))) return;
        pictures += 1;
        await page.screenshot({ path: join(folder, `${name}-${way}.png`), fullPage: true });
      });
    } catch (error) {
      troubles.push(`${walk} ${way}: ${error.message}`);
    } finally {
      await context.close();
    }
  }
  await browser.stop();
}
await host.stop();

console.log(`${pictures} pictures`);
for (const trouble of troubles) console.log(`trouble: ${trouble}`);
process.exitCode = troubles.length > 0 || pictures === 0 ? 1 : 0;
