// Guards: no way past the ready check, no silent refusal of the store, no promise too much.

import assert from "node:assert/strict";
import { test } from "node:test";

import { mounted, press } from "./kit.mjs";
import {
  firstOpen,
  heading,
  keep,
  passReady,
  refuseWrites,
  savedTest,
  stage,
  wholeTest,
} from "./steps.mjs";

const here = stage();
const { open } = here;

for (const name of ["SecurityError", "QuotaExceededError"]) {
  test(`storage that refuses every write from the start (${name}) stops nobody`, async () => {
    const { page, watch, context } = await open();
    await page.addInitScript(refuseWrites, name);
    await wholeTest(page, here.host.url);
    await press(page, "Save result");
    await page.getByText("Your best today: 43.5").waitFor();
    await page.getByText(/does not let the page keep anything/).waitFor();
    assert.equal(await page.getByText("Saved on this device.").count(), 0);
    watch.assertCalm();
    await context.close();
  });
}

test("a deletion that the browser refuses is said, and the test stays", async () => {
  const { page, watch, context } = await open();
  await savedTest(page, here.host.url);
  await page.evaluate(refuseWrites, "QuotaExceededError");
  await press(page, "Delete this test");
  await page.getByRole("alert").waitFor();
  await page.getByText("Your best today: 43.5").waitFor();
  watch.assertCalm();
  await context.close();
});

test("who is unwell cannot go on with a test begun before", async () => {
  const { page, context } = await open();
  const person = await firstOpen(page, here.host.url);
  await passReady(person);
  await person.press("Go to the reach");
  await keep(page, "224");
  for (const title of ["Your test", "Warm-up", "Ready check"]) {
    await page.goBack();
    await heading(page, title);
  }
  await person.yes("unwell");
  await person.press(/^Home$/);
  await heading(page, "Two Marks");
  await press(page, "Go on with your test");
  await heading(page, "Ready check");
  await context.close();
});

test("who is unwell finds no way past the ready check by typing an address", async () => {
  const { page, context } = await open();
  const person = await firstOpen(page, here.host.url);
  await person.press("Go to the ready check");
  await person.yes("unwell");
  for (const step of ["warm-up", "test", "reach", "jumps", "check"]) {
    await page.goto(`${here.host.url}#/${step}`);
    await heading(page, "Ready check");
  }
  await context.close();
});

test("the way back from a result leads to no empty test", async () => {
  const { page, context } = await open();
  await savedTest(page, here.host.url);
  await page.goBack();
  await page.waitForFunction(() => !location.hash.startsWith("#/result"));
  await heading(page, "Two Marks");
  assert.equal(await page.getByRole("button", { name: /^Keep trial/ }).count(), 0);
  await context.close();
});

test("with storage blocked the first page says so, before anything is measured", async () => {
  const { page, context } = await open();
  await page.addInitScript(() => {
    Object.defineProperty(window, "localStorage", {
      get: () => {
        throw new DOMException("blocked", "SecurityError");
      },
    });
  });
  await page.goto(here.host.url);
  await mounted(page);
  await page.getByText(/does not let the page keep anything/).waitFor();
  await context.close();
});

test("without a journal the page does not promise that a deletion is on the disk", async () => {
  const { page, context } = await open();
  await page.addInitScript(() => {
    Object.defineProperty(window, "indexedDB", { get: () => undefined });
  });
  await wholeTest(page, here.host.url);
  await press(page, "Save result");
  await page.getByText(/does not say that it is on the disk/).waitFor();
  await press(page, "Delete this test");
  await page.getByRole("button", { name: "Bring it back" }).waitFor();
  await page.getByText(/does not say that it is on the disk/).waitFor();
  await context.close();
});
