// What can I reach, and the pages that open for adults or growers only.

import { mkdirSync } from "node:fs";
import { join } from "node:path";
import { test } from "node:test";
import assert from "node:assert/strict";

import {
  arrived,
  assertAccessible,
  mounted,
  press,
  root,
  startBrowser,
  VIEWPORTS,
} from "./kit.mjs";
import { heading, LOCALE, measureAll, saved, savedTest, stage, taps } from "./steps.mjs";

const here = stage();
const folder = join(root, "target", "shots");
const PAGES = ["touch", "power", "growth", "athletes"];

/** A picture to look at, under target/shots. */
async function picture(page, name) {
  mkdirSync(folder, { recursive: true });
  await page.screenshot({ path: join(folder, `reachable-${name}.png`), fullPage: true });
}

const goTo = async (page, route) => {
  await page.goto(`${here.host.url}#/${route}`);
  await arrived(page);
};

/** All that the browser keeps for the page. */
const everything = (page) => page.evaluate(() => JSON.stringify({ ...localStorage }));

/** No page is wider than its screen. */
async function fits(page) {
  const [width, screen] = await page.evaluate(() => [
    document.documentElement.scrollWidth,
    window.innerWidth,
  ]);
  assert.ok(width <= screen, `${page.url()} is ${width} px wide on ${screen}`);
}

test("a ring, a net and a height of one's own", async () => {
  const { page, context, watch } = await here.open();
  await savedTest(page, here.host.url);
  await page.getByRole("link", { name: "What can I reach?" }).click();
  await heading(page, "What can I reach?");
  // Reach 224.5 and jumps to 265.5, 266.5 and 268: usually 266.5 (to half a centimetre); 306 is needed.
  await page.getByText("Your usual jump is 39.5 cm short of that.").waitFor();
  await page.getByText("FIBA, Official Basketball Rules 2020").waitFor();
  await page.getByText("Never hang on a ring, a board or a net.").waitFor();
  await assertAccessible(page);
  await picture(page, "touch");
  const before = await everything(page);
  assert.ok(before.includes("two-marks"), "nothing at all is kept");
  await page.getByLabel("What do you want to reach?").selectOption({ index: 4 });
  await page.getByText("Type a height to see how far it is.").waitFor();
  await page.getByLabel("Height over the floor, in cm").fill("266,5");
  await page.getByText("To close the fingers around it").waitFor();
  await page.getByText(/In one jump: about [1-6] in 10\./).first().waitFor();
  // Nothing typed here is kept.
  assert.equal(await everything(page), before, "the height was kept");
  watch.assertCalm();
  watch.assertSealed(here.host.origin);
  await context.close();
});

test("somebody of 15 to 17 is shown no body weight and no athletes", async () => {
  const { page, context } = await here.open();
  await savedTest(page, here.host.url);
  for (const name of ["Power, for adults", "Tables of athletes"]) {
    assert.equal(await page.getByRole("link", { name }).count(), 0, name);
  }
  for (const route of ["power", "athletes"]) {
    await goTo(page, route);
    await page.getByText("18 or older").waitFor();
    assert.equal(await page.locator("main input").count(), 0, route);
  }
  await goTo(page, "growth");
  await page.getByText("it needs a birth month and year").waitFor();
  assert.equal(await page.locator("main input").count(), 0);
  await context.close();
});

test("an adult asks for power and for athletes, and both are off at first", async () => {
  const { page, context } = await here.open();
  await page.goto(here.host.url);
  await mounted(page);
  await press(page, "Start a test");
  const person = taps(page);
  await person.choose("18 or over");
  await measureAll(page, person);
  await press(page, "Save result");
  await saved(page);
  await page.getByRole("link", { name: "Power, for adults" }).click();
  await heading(page, "Power, for adults");
  assert.equal(await page.locator("main input[type=text]").count(), 0);
  await page.getByLabel("Show me the estimate").check();
  await page.getByLabel("Body weight, in kg").fill("65");
  // Sayers 1999: 51.9 x 43.5 + 48.9 x 65 - 2007 = 3429 W, to 50 W.
  await page.getByText(/About 3,?450 W at the peak/).waitFor();
  assert.equal(await page.getByText("Johnson and Bahamonde, 1996", { exact: true }).count(), 0);
  await page.getByLabel("Body height, in cm").fill("172");
  await page.getByText("Johnson and Bahamonde, 1996", { exact: true }).waitFor();
  await assertAccessible(page);
  await picture(page, "power");
  await goTo(page, "athletes");
  assert.equal(await page.locator("main h2").count(), 0);
  const row = await page.locator("label", { hasText: "Show me these tables" }).boundingBox();
  assert.ok(row.height >= 48, `the row to tick is ${row.height} px high`);
  await page.getByLabel("Show me these tables").check();
  await page.locator("main h2").first().waitFor();
  await assertAccessible(page);
  await picture(page, "athletes");
  await context.close();
});

test("the new pages fit small screens, large text and the dark", async () => {
  for (const scheme of ["light", "dark"]) {
    const { page, context } = await here.open({
      viewport: VIEWPORTS.small,
      colorScheme: scheme,
    });
    await savedTest(page, here.host.url);
    for (const route of PAGES) {
      await goTo(page, route);
      await fits(page);
      await assertAccessible(page);
      await picture(page, `${route}-320-${scheme}`);
    }
    await context.close();
  }
});

test("large text runs over nowhere on the pages to read", async () => {
  // The browser's own default size, as a person sets it.
  const large = await startBrowser({ args: ["--blink-settings=defaultFontSize=32"] });
  try {
    const { page } = await large.open({ ...LOCALE, viewport: VIEWPORTS.small });
    await savedTest(page, here.host.url);
    for (const route of [...PAGES, "data", "bands", "words", "about"]) {
      await goTo(page, route);
      await fits(page);
      // Nothing is cut off inside a box of its own either.
      const cut = await page.locator("main *").evaluateAll((all) =>
        all
          .filter((one) => one.scrollWidth > one.clientWidth + 1 && one.clientWidth > 0)
          .filter((one) => getComputedStyle(one).overflowX === "hidden")
          .map((one) => one.outerHTML.slice(0, 80)),
      );
      assert.deepEqual(cut, [], route);
      await picture(page, `${route}-large`);
    }
  } finally {
    await large.stop();
  }
});

/** The ends of every limb of the three figures, as shares of the drawing's width. */
const limbs = (page) =>
  page.locator(".figure-box svg").evaluateAll((drawings) =>
    drawings.map((svg) =>
      [...svg.querySelectorAll("path.limb")].map((path) => {
        const end = path.getPointAtLength(path.getTotalLength());
        return end.x / svg.viewBox.baseVal.width;
      }),
    ),
  );

test("a left hand mirrors the drawings", async () => {
  const drawn = {};
  for (const hand of ["Left", "Right"]) {
    const { page, context } = await here.open();
    await page.goto(here.host.url);
    await mounted(page);
    await press(page, "Start a test");
    const person = taps(page);
    await person.choose("15 to 17");
    await person.choose(hand);
    await person.press("Go to the ready check");
    for (const question of ["unwell", "fits", "legs"]) await person.no(question);
    await person.tick("All of this is true");
    await person.press("Go to warm-up");
    await page.locator(".figure-box svg").nth(2).waitFor();
    drawn[hand] = await limbs(page);
    await picture(page, `hand-${hand.toLowerCase()}`);
    await context.close();
  }
  assert.ok(drawn.Right.length === 3 && drawn.Right.every((figure) => figure.length > 4));
  assert.notDeepEqual(drawn.Left, drawn.Right);
  drawn.Right.forEach((figure, at) =>
    figure.forEach((x, limb) => assert.ok(Math.abs(1 - x - drawn.Left[at][limb]) < 0.01)),
  );
});
