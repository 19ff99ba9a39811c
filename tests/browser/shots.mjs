// Takes a picture of every state of states.json, in four ways.
//
//   node shots.mjs FOLDER [part of a state's name ...]
//
// A state is { name, route, stored? }: a hash route, and what the browser's storage holds before
// the page starts. Data in it are invented.

import { mkdirSync, readFileSync, rmSync } from "node:fs";
import { join } from "node:path";
import assert from "node:assert/strict";
import { mounted, startBrowser, startHost, VIEWPORTS } from "./kit.mjs";

// Text at twice its size, as a person sets it in the browser: twice the default font size.
const BIG_TEXT = "--blink-settings=defaultFontSize=32,defaultFixedFontSize=26";

const WAYS = [
  { way: "phone", viewport: VIEWPORTS.phone },
  { way: "small-big-text", viewport: VIEWPORTS.small, args: [BIG_TEXT] },
  { way: "wide", viewport: VIEWPORTS.wide },
  { way: "dark", viewport: VIEWPORTS.phone, colorScheme: "dark" },
];

const [folder, ...wanted] = process.argv.slice(2);
assert.ok(folder, "usage: node shots.mjs FOLDER [part of a state's name ...]");
const states = JSON.parse(readFileSync(new URL("states.json", import.meta.url), "utf8")).filter(
  ({ name }) => wanted.length === 0 || wanted.some((part) => name.includes(part)),
);
assert.ok(states.length > 0, "no state of that name");
if (wanted.length === 0) rmSync(folder, { recursive: true, force: true });
mkdirSync(folder, { recursive: true });

const troubles = [];
const host = await startHost();

async function shoot(browser, { name, route, stored = {} }, { way, viewport, colorScheme }) {
  const { context, page, watch } = await browser.open({
    viewport,
    colorScheme: colorScheme ?? "light",
    reducedMotion: "reduce",
    serviceWorkers: "block",
  });
  await context.addInitScript((entries) => {
    for (const [key, value] of Object.entries(entries)) localStorage.setItem(key, value);
  }, stored);
  try {
    await page.goto(host.url + route);
    await mounted(page);
    await page.getByRole("heading", { level: 1 }).first().waitFor();
    const wide = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
    if (wide > 0) troubles.push(`${name} ${way}: ${wide} px wider than the screen`);
    // Before the picture: to take it, the driver adds a style that the content policy refuses.
    watch.assertCalm();
    await page.screenshot({ path: join(folder, `${name}-${way}.png`), fullPage: true });
  } catch (error) {
    troubles.push(`${name} ${way}: ${error.message}`);
  } finally {
    await context.close();
  }
}

for (const way of WAYS) {
  const browser = await startBrowser({ args: way.args });
  for (const state of states) await shoot(browser, state, way);
  await browser.stop();
}
await host.stop();

console.log(`${states.length} states, ${states.length * WAYS.length} pictures`);
for (const trouble of troubles) console.log(`trouble: ${trouble}`);
process.exitCode = troubles.length > 0 ? 1 : 0;
