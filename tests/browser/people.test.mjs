// People come, are renamed and go: nobody takes the place of somebody else.

import assert from "node:assert/strict";
import { test } from "node:test";

import { fill, follow, press } from "./kit.mjs";
import { heading, savedTest, stage } from "./steps.mjs";

const here = stage();

/** Names of everybody this browser keeps, and how many tests each has. */
const keptPeople = (page) =>
  page.evaluate(() => {
    const texts = Object.entries(localStorage).filter(([key]) => key.includes("/r/"));
    const records = texts.map(([, text]) => JSON.parse(text));
    return records.filter(({ k }) => k === "p").map(({ name }) => name).sort();
  });

test("a brother added while a test is unfinished is somebody new, and the test stays hers", async () => {
  const { page, watch } = await here.open();
  await savedTest(page, here.host.url);
  await page.goto(`${here.host.url}#/`);
  await heading(page, "Two Marks");
  await press(page, "Start a test");
  await heading(page, "Ready check");
  await page.goto(`${here.host.url}#/`);
  await page.getByText("A test of Me is not finished.").waitFor();
  await follow(page, "Add");
  await heading(page, "Add a person");
  assert.equal(await page.getByLabel("Name or nickname").inputValue(), "");
  await fill(page, "Name or nickname", "Bo");
  await page.getByRole("radio", { name: "Under 12" }).click();
  await press(page, "Keep Bo");
  await heading(page, "Two Marks");
  assert.deepEqual(await keptPeople(page), ["Bo", "Me"]);
  await page.getByText("A test of Me is not finished.").waitFor();
  watch.assertCalm();
});

test("another name is told with the tests it takes along, and taken back", async () => {
  const { page, watch } = await here.open();
  await savedTest(page, here.host.url);
  await page.goto(`${here.host.url}#/`);
  await heading(page, "Two Marks");
  await page.getByRole("button", { name: "Me", exact: true }).click();
  await heading(page, "Change Me");
  await fill(page, "Name or nickname", "Bo");
  await page.getByText("1 test will bear the name Bo.").waitFor();
  await press(page, "Keep Bo");
  await heading(page, "Two Marks");
  await page.getByText("Me is called Bo now, with 1 test.").waitFor();
  assert.deepEqual(await keptPeople(page), ["Bo"]);
  await press(page, "Undo: Me again");
  await page.getByRole("button", { name: "Me", exact: true }).waitFor();
  assert.deepEqual(await keptPeople(page), ["Me"]);
  watch.assertCalm();
});

test("whoever is added for an earlier result comes back to it, and no test begins", async () => {
  const { page, watch } = await here.open();
  await page.goto(`${here.host.url}#/add`);
  await heading(page, "Add an earlier result");
  await follow(page, "Add a person");
  await heading(page, "Add a person");
  await fill(page, "Name or nickname", "Bo");
  await page.getByRole("radio", { name: "Under 12" }).click();
  await press(page, "Keep Bo");
  await heading(page, "Add an earlier result");
  await page.getByText("Test of Bo").waitFor();
  watch.assertCalm();
});
