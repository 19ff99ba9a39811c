// Along every walk of states.mjs: each page has its heading, fits its screen and passes axe.

import assert from "node:assert/strict";
import { test } from "node:test";

import { assertAccessible, startBrowser } from "./kit.mjs";
import { LOCALE, stage } from "./steps.mjs";
import { routesOf, shows, WALKS } from "./states.mjs";

const here = stage();

async function fits(page, name) {
  const { scrollWidth, width } = await page.evaluate(() => ({
    scrollWidth: document.documentElement.scrollWidth,
    width: innerWidth,
  }));
  assert.ok(scrollWidth <= width, `${name} is ${scrollWidth} px wide on ${width}`);
  assert.equal(await page.locator("h1:visible").count(), 1, `${name} has not just one heading`);
}

async function walkAll(open, visit) {
  const visited = [];
  for (const walk of Object.values(WALKS)) {
    const { page, context, watch } = await open();
    await walk(page, here.host.url, async (name) => {
      visited.push(name);
      await fits(page, name);
      await visit?.(page, name);
    });
    watch.assertSealed(here.host.origin);
    watch.assertCalm();
    await context.close();
  }
  return visited;
}

for (const look of ["light", "dark", "sun"]) {
  test(`every state in ${look} passes what a program can check, and every route is visited`, async () => {
    const open = async () => {
      // A tall window: what the foot covers only until one scrolls is no fault of a target.
      const opened = await here.open({ viewport: { width: 390, height: 4000 } });
      await opened.page.addInitScript((name) => {
        localStorage.setItem("two-marks/theme", JSON.stringify(name));
      }, look);
      return opened;
    };
    const left = new Set();
    const visited = await walkAll(open, async (page) => {
      for (const open of await assertAccessible(page)) left.add(open.split(":")[0]);
    });
    const unseen = routesOf().filter((route) => !visited.some(shows(route)));
    assert.deepEqual(unseen, [], "routes on no walk");
    if (left.size > 0) console.log(`axe left open in ${look}: ${[...left].join(", ")}`);
  });
}

test("every state fits 320 pixels with text at 200 %", async () => {
  const large = await startBrowser({ args: ["--blink-settings=defaultFontSize=32"] });
  try {
    await walkAll(() => large.open({ ...LOCALE, viewport: { width: 320, height: 640 } }));
  } finally {
    await large.stop();
  }
});
