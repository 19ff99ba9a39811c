// The invented family never meets a person's own records, and a spreadsheet adds nothing twice.

import assert from "node:assert/strict";
import { test } from "node:test";

import { arrived, mounted, press } from "./kit.mjs";
import { heading, journalLines, savedTest, stage } from "./steps.mjs";

const here = stage();
const { open } = here;

/** All that the browser keeps for the page: store, drafts of this tab, journal. */
const everything = async (page) => ({
  ...(await page.evaluate(() => ({ kept: { ...localStorage }, tab: { ...sessionStorage } }))),
  lines: await page.evaluate(journalLines),
});

test("the example writes nothing, is marked on every page and gone at a tap", async () => {
  const { page, watch, context } = await open();
  await savedTest(page, here.host.url);
  await page.goto(`${here.host.url}#/example`);
  await heading(page, "Example");
  const before = await everything(page);
  assert.ok(before.lines.length > 0, "the journal was not seen");
  await press(page, "Show me an example");
  await page.getByRole("button", { name: "Heron", exact: true }).waitFor();
  assert.equal(await page.getByRole("button", { name: "Me", exact: true }).count(), 0);
  for (const route of ["", "who", "tests", "data", "bands", "sure", "words", "about", "example"]) {
    await page.goto(`${here.host.url}#/${route}`);
    await arrived(page);
    await page.getByText("Example: these people and tests are invented.").waitFor();
  }
  await page.goto(`${here.host.url}#/data`);
  await page.getByText("This is the example.").waitFor();
  assert.equal(await page.getByRole("button", { name: "Save a backup file" }).count(), 0);
  // A change in the example: somebody's test is deleted.
  await page.goto(`${here.host.url}#/tests`);
  await page.locator("tbody a").first().click();
  await press(page, "Delete this test");
  await page.getByText(/It stays in the bin/).waitFor();
  assert.deepEqual(await everything(page), before);
  await press(page, "End the example");
  await page.getByRole("button", { name: "Me", exact: true }).waitFor();
  assert.equal(await page.getByRole("button", { name: "Heron", exact: true }).count(), 0);
  assert.deepEqual(await everything(page), before);
  watch.assertSealed(here.host.origin);
  watch.assertCalm();
  await context.close();
});

test("a spreadsheet brings its tests in once", async () => {
  const { page, watch, context } = await open();
  await savedTest(page, here.host.url);
  const text = "date;jump_height_cm\r\n2024-05-03;41,5\r\n2024-05-10;42\r\n03.05.2024;4\r\n";
  const file = { name: "old.csv", mimeType: "text/csv", buffer: Buffer.from(text) };
  await page.goto(`${here.host.url}#/data`);
  await page.locator("#sheet-file").setInputFiles(file);
  await page.getByText("Line 4: the date must look like 2026-05-03.").waitFor();
  await press(page, "Add 2 tests");
  await page.getByText("2 tests were added.").waitFor();
  await page.locator("#sheet-file").setInputFiles(file);
  await page.getByText("2 tests are here already").waitFor();
  assert.equal(await page.getByRole("button", { name: /^Add \d/ }).count(), 0);
  await page.reload();
  await mounted(page);
  await page.goto(`${here.host.url}#/tests`);
  await page.getByRole("link", { name: /3 May 2024/ }).waitFor();
  watch.assertCalm();
  await context.close();
});

test("what is really measured does not go with the example", async () => {
  const { page, watch, context } = await open();
  await savedTest(page, here.host.url);
  await page.goto(`${here.host.url}#/example`);
  await press(page, "Show me an example");
  await page.getByRole("button", { name: "Heron", exact: true }).waitFor();
  for (const route of ["class", "add"]) {
    await page.goto(`${here.host.url}#/${route}`);
    await heading(page, "Example");
  }
  await page.goto(`${here.host.url}#/`);
  await press(page, "Start a test");
  await heading(page, "Ready check");
  assert.equal(await page.getByText("Example: these people").count(), 0);
  await page.locator("a.chip", { hasText: /^Me$/ }).waitFor();
  watch.assertCalm();
  await context.close();
});
