// The way to the home screen is told as it is in the browser at hand, once, and before a season begins.

import assert from "node:assert/strict";
import { test } from "node:test";

import { assertAccessible, mounted, press } from "./kit.mjs";
import { stage, withFamily } from "./steps.mjs";

const here = stage();
const TITLE = "Keep the page for a season";
const ASK = "Put the page on the home screen";

/** The wall of somebody with many tests, whose page is not on the home screen yet. */
async function wall(before = () => {}) {
  const opened = await here.open();
  const { page } = opened;
  await page.addInitScript(before);
  await withFamily(page, here.host.url);
  await page.getByRole("heading", { name: TITLE }).waitFor();
  await page.getByText("How to do it").click();
  return opened;
}

/** In the page: the browser offers, as one that can, and the person answers so. */
const offer = (outcome) => {
  const made = new Event("beforeinstallprompt", { cancelable: true });
  window.asked = 0;
  made.prompt = async () => {
    window.asked += 1;
  };
  made.userChoice = Promise.resolve({ outcome });
  window.dispatchEvent(made);
  return made.defaultPrevented;
};

/** Reads the wall again, as somebody who comes back to it. */
async function comeBack(page) {
  await page.goto(`${here.host.url}#/data`);
  await page.getByRole("heading", { level: 1, name: "Your data" }).waitFor();
  await page.goto(`${here.host.url}#/`);
  await page.getByRole("heading", { name: TITLE }).waitFor();
  await page.getByText("How to do it").click();
}

test("a browser with a menu names the menu, and one with a share menu names that", async () => {
  const menu = await wall();
  await menu.page.getByText(/^Open the menu of the browser\./).waitFor();
  await menu.page.getByText(/^Save a backup first/).waitFor();
  assert.equal(await menu.page.getByRole("button", { name: ASK }).count(), 0);
  await menu.context.close();

  const share = await wall(() => {
    Object.defineProperty(Navigator.prototype, "standalone", { get: () => false });
  });
  await share.page.getByText(/^Open the share menu of the browser/).waitFor();
  await share.page.getByText(/^Save a backup first/).waitFor();
  await assertAccessible(share.page);
  await share.context.close();
});

test("an offer of the browser waits for a tap, and the notice goes once it is taken", async () => {
  const { page, context, watch } = await wall();
  assert.ok(await page.evaluate(offer, "accepted"), "the browser's own banner was not held back");
  await comeBack(page);
  await assertAccessible(page);
  assert.equal(await page.evaluate(() => window.asked), 0);
  await press(page, ASK);
  await page.getByRole("heading", { name: TITLE }).waitFor({ state: "detached" });
  assert.equal(await page.evaluate(() => window.asked), 1);
  await page.reload();
  await mounted(page);
  assert.equal(await page.getByRole("heading", { name: TITLE }).count(), 0);
  watch.assertCalm();
  await context.close();
});

test("an offer that is turned down leaves the way by the menu", async () => {
  const { page, context, watch } = await wall();
  await page.evaluate(offer, "dismissed");
  await comeBack(page);
  await press(page, ASK);
  await page.getByText(/^Open the menu of the browser\./).waitFor();
  assert.equal(await page.getByRole("button", { name: ASK }).count(), 0);
  watch.assertCalm();
  await context.close();
});
