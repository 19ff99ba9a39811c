// What the page says is saved, or deleted, stays so when the browser is killed at once.

import assert from "node:assert/strict";
import { after, before, test } from "node:test";

import { mounted, press, scratch, startHost, startProfile } from "./kit.mjs";
import { LOCALE, saved, wholeTest } from "./steps.mjs";

let host;
before(async () => {
  host = await startHost();
});
after(() => host?.stop());

test("a saved test and a deleted test survive a killed browser", async () => {
  const place = scratch();
  const first = await startProfile(place.folder, LOCALE);
  await wholeTest(first.page, host.url);
  await press(first.page, "Save result");
  await saved(first.page);
  await first.kill();

  const second = await startProfile(place.folder, LOCALE);
  await second.page.goto(`${host.url}#/tests`);
  await mounted(second.page);
  const row = second.page.getByRole("link", { name: /43\.5/ });
  await row.waitFor();
  await row.click();
  await press(second.page, "Delete this test");
  await second.page.getByText(/It stays in the bin/).waitFor();
  await second.kill();

  const third = await startProfile(place.folder, LOCALE);
  await third.page.goto(`${host.url}#/tests`);
  await mounted(third.page);
  await third.page.getByText("No tests yet.").waitFor();
  assert.equal(await third.page.getByRole("link", { name: /43\.5/ }).count(), 0);
  await third.stop();
  place.release();
});
