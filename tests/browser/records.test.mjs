// Saved tests that are changed, added, moved and found again.

import assert from "node:assert/strict";
import { test } from "node:test";

import { assertAccessible, follow, mounted, press } from "./kit.mjs";
import { heading, saved, savedTest, stage } from "./steps.mjs";

const here = stage();
const { open } = here;

/** Where the page is, as the page itself knows it: the driver hears of it a moment later. */
const address = (page) => page.evaluate(() => location.href);

/** Adds an earlier result of one height, on a day of June 2020 and after. */
async function addHeight(page, date, height) {
  await page.goto(`${here.host.url}#/add`);
  await heading(page, "Add an earlier result");
  await page.getByLabel("Date", { exact: true }).fill(date);
  await page.getByRole("radio", { name: "Only heights" }).click();
  await page.getByLabel(/^Trial 1, between the marks/).fill(height);
  await press(page, "Save the result");
  await heading(page, "Result");
  await page.getByText("Added by hand.", { exact: true }).waitFor();
}

test("a reading of a saved test is changed, and what is wrong is said beside it", async () => {
  const { page, watch } = await open();
  await savedTest(page, here.host.url);
  await follow(page, "Change this test");
  await heading(page, "Change a test");
  await assertAccessible(page);
  const mark = page.getByLabel("Trial 3, jump mark in cm");
  assert.equal(await mark.inputValue(), "268.0");
  await mark.fill("2x");
  await press(page, "Save the change");
  await heading(page, "Change a test");
  assert.equal(await mark.inputValue(), "2x", "what was typed is lost");
  assert.equal(await mark.getAttribute("aria-invalid"), "true");
  await mark.fill("270");
  await press(page, "Save the change");
  await page.getByText("The change is saved.").waitFor();
  await page.getByText("Your best today: 45.5").waitFor();
  await page.reload();
  await mounted(page);
  await page.getByText("Your best today: 45.5").waitFor();
  await page.goto(`${here.host.url}#/tests`);
  await page.getByRole("link", { name: /45\.5/ }).waitFor();
  watch.assertCalm();
});

test("a half-typed change survives a reload, and leaving it forgets it", async () => {
  const { page, watch } = await open();
  await savedTest(page, here.host.url);
  await follow(page, "Change this test");
  await page.getByLabel("Trial 3, jump mark in cm").fill("27");
  await page.getByLabel("Note", { exact: true }).fill("wind from the left");
  await page.reload();
  await mounted(page);
  await heading(page, "Change a test");
  const mark = page.getByLabel("Trial 3, jump mark in cm");
  assert.equal(await mark.inputValue(), "27", "what was typed is lost");
  assert.equal(await page.getByLabel("Note", { exact: true }).inputValue(), "wind from the left");
  await follow(page, "Leave it as it was");
  await page.getByText("Your best today: 43.5").waitFor();
  await follow(page, "Change this test");
  assert.equal(await mark.inputValue(), "268.0");
  watch.assertCalm();
});

test("the hand of a saved test is changed", async () => {
  const { page, watch } = await open();
  await savedTest(page, here.host.url);
  await follow(page, "Change this test");
  await page.locator("summary", { hasText: "Kind of test" }).first().click();
  await page.getByLabel("Hand that marks the wall").selectOption({ label: "Left" });
  await press(page, "Save the change");
  await page.getByText("The change is saved.").waitFor();
  await follow(page, "Change this test");
  await page.locator("summary", { hasText: "Kind of test" }).first().click();
  const hand = page.getByLabel("Hand that marks the wall");
  assert.equal(await hand.locator("option:checked").textContent(), "Left");
  watch.assertCalm();
});

test("leaving the form changes nothing", async () => {
  const { page } = await open();
  await savedTest(page, here.host.url);
  await follow(page, "Change this test");
  await page.getByLabel("Trial 3, jump mark in cm").fill("270");
  await follow(page, "Leave it as it was");
  await page.getByText("Your best today: 43.5").waitFor();
});

test("earlier results added by hand end the practice, and deleting one brings it back", async () => {
  const { page, watch } = await open();
  const practice = page.getByText(/Your first two tests are practice/);
  await savedTest(page, here.host.url);
  const today = await address(page);
  await practice.first().waitFor();
  await addHeight(page, "2020-06-01", "40");
  await addHeight(page, "2020-06-20", "41");
  const second = await address(page);
  await page.goto(today);
  await page.getByText("Your best today: 43.5").waitFor();
  assert.equal(await practice.count(), 0, "the third test is no practice");
  await page.goto(second);
  await page.getByText("Added by hand.", { exact: true }).waitFor();
  // What was saved last is not said of a test that one looks at later.
  assert.equal(await page.getByRole("button", { name: "Undo saving" }).count(), 1);
  await page.goto(today);
  await page.getByText("Your best today: 43.5").waitFor();
  assert.equal(await page.getByRole("button", { name: "Undo saving" }).count(), 0);
  await page.goto(second);
  await press(page, "Delete this test");
  await page.getByText(/Deleted/).first().waitFor();
  await page.goto(today);
  await practice.first().waitFor();
  watch.assertCalm();
});

test("a test goes to the right person, and back", async () => {
  const { page, watch } = await open();
  await savedTest(page, here.host.url);
  const result = await address(page);
  await page.goto(`${here.host.url}#/`);
  await heading(page, "Two Marks");
  await follow(page, "Add");
  await page.getByLabel("Name or nickname").fill("Bo");
  await page.getByRole("radio", { name: "12 to 14" }).click();
  await press(page, "Keep Bo");
  await heading(page, "Two Marks");
  await page.goto(result);
  await page.getByText(/^Not a test of/).click();
  await press(page, "It is a test of Bo");
  await page.getByText("This is a test of Bo now.").waitFor();
  await press(page, "Undo");
  await page.getByText(/^Not a test of Me/).waitFor();
  watch.assertCalm();
});
