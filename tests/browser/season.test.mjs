// The season page, with an invented family restored from a backup file.

import { test } from "node:test";
import { readFileSync } from "node:fs";
import assert from "node:assert/strict";
import { assertAccessible, follow, press, VIEWPORTS } from "./kit.mjs";
import { LOCALE, heading, savedEvent, stage, withFamily } from "./steps.mjs";

const here = stage();

/** Opens the season page with both children on the device. */
async function season(more = {}) {
  const opened = await here.open({ reducedMotion: "reduce", ...more });
  const { page } = opened;
  await withFamily(page, here.host.url);
  await press(page, "Mio");
  await page.getByRole("link", { name: "Season" }).click();
  await heading(page, "Season");
  return opened;
}

const overflow = (page) =>
  page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
const unfold = (page, name) => page.getByRole("button", { name, exact: true }).click();
const jump = (page) => page.getByRole("button", { name: "Standing jump", exact: true }).click();

test("the verdict comes first, then the picture, and readers hear the conclusion", async () => {
  const { context, page, watch } = await season();
  await jump(page);
  const picture = page.getByRole("img");
  assert.match(await picture.getAttribute("aria-label"), /^Season of Mio, 30 tests\. Cannot tell yet\./);
  const verdict = page.getByRole("heading", { name: "Cannot tell yet" }).first();
  const [above, below] = await Promise.all([picture.boundingBox(), verdict.boundingBox()]);
  assert.ok(below.y < above.y);
  await unfold(page, "Details");
  assert.equal(await page.locator(".season__table tbody tr").count(), 30);
  await page.getByText("1 test of another jump: Running jump, 3 steps, off both feet").waitFor();
  watch.assertCalm();
  watch.assertSealed(here.host.origin);
  await context.close();
});

test("a child who gains far beyond growth is told so", async () => {
  const { context, page } = await season();
  await page.goto(`${here.host.url}#/`);
  await press(page, "Ada");
  await page.getByRole("link", { name: "Season" }).click();
  await page.getByRole("heading", { name: /^Higher than in September/ }).first().waitFor();
  await context.close();
});

test("the season leaves as a picture, with nothing about a person until it is ticked", async () => {
  const { context, page, watch } = await season();
  await follow(page, "Picture of the season");
  await heading(page, "Picture of the season");
  // The running jump was done once, so it has no answer; the standing jump has one.
  const answer = page.getByRole("checkbox", { name: /^The answer/ });
  assert.equal(await answer.count(), 0);
  await jump(page);
  await answer.waitFor();
  const saved = async () => {
    const coming = page.waitForEvent("download");
    await press(page, "Save as SVG");
    return readFileSync(await (await coming).path(), "utf8");
  };
  const told = ["Mio", "2025", "Cannot tell yet", "Jumps of this age", "Indonesia", "Standing reach"];
  const plain = await saved();
  assert.match(plain, /width="1080" height="1350"/);
  assert.deepEqual(told.filter((words) => plain.includes(words)), []);
  assert.equal(await page.getByRole("checkbox", { checked: true }).count(), 0);
  for (const box of await page.getByRole("checkbox").all()) await box.check();
  const full = await saved();
  assert.deepEqual(told.filter((words) => !full.includes(words)), []);
  const coming = page.waitForEvent("download");
  await press(page, "Save as PNG");
  await page.getByText("The picture is saved.").waitFor();
  const png = readFileSync(await (await coming).path());
  assert.deepEqual([png.readUInt32BE(16), png.readUInt32BE(20)], [1080, 1350]);
  watch.assertCalm();
  watch.assertSealed(here.host.origin);
  await context.close();
});

test("keys alone choose, zoom, toggle and compare", async () => {
  const { context, page } = await season();
  await jump(page);
  await unfold(page, "Details");
  const use = async (name) => {
    await page.getByRole("button", { name, exact: true }).focus();
    await page.keyboard.press("Enter");
  };
  // All marks of a kind are one path, each an outline of its own in it.
  const marks = () =>
    page.locator(".season-box svg path").evaluateAll((paths) =>
      paths.reduce((sum, path) => sum + path.getAttribute("d").split("M").length, 0));
  const all = await marks();
  await use("Closer");
  await page.locator(".season__moves [role=status]").getByText("to").waitFor();
  assert.ok((await marks()) < all);
  await use("Wider");
  assert.equal(await marks(), all);
  for (const name of ["Published bands", "Standing reach", "Highest touch"]) await use(name);
  assert.ok((await marks()) > all);
  await page.getByRole("heading", { name: "Among others, at each age" }).waitFor();
  await use("Choose other tests");
  await page.getByLabel("Second test").selectOption({ index: 0 });
  await page.getByText("Choose two different tests.").waitFor();
  await context.close();
});

test("a plan offers a calendar file, and leg days without rest offer none", async () => {
  const { context, page } = await season();
  await unfold(page, "The next test");
  await page.getByText("Soonest good day:").waitFor();
  const [file] = await Promise.all([
    page.waitForEvent("download"),
    page.getByRole("button", { name: /^Calendar file/ }).first().click(),
  ]);
  assert.equal(file.suggestedFilename(), "jump-test.ics");
  const { start } = await savedEvent(file);
  const told = await page.getByText("Soonest good day:").textContent();
  for (const part of [{ weekday: "long" }, { day: "numeric" }, { month: "long" }]) {
    const said = start.toLocaleDateString(LOCALE.locale, { ...part, timeZone: LOCALE.timezoneId });
    assert.ok(told.includes(said), `${told}: ${start.toISOString()}`);
  }
  await press(page, "Monday");
  await press(page, "Thursday");
  await page.getByText(/No day is free of hard legs\. Skip .+, then test on/).waitFor();
  await context.close();
});

for (const [way, settings, look] of [
  ["light", {}, "light"],
  ["dark", { colorScheme: "dark" }, "dark"],
  ["sun", {}, "sun"],
]) {
  test(`is accessible and fits small screens in ${way}`, async () => {
    const { context, page } = await season(settings);
    await jump(page);
    if (look === "sun") {
      await page.evaluate(() => localStorage.setItem("two-marks/theme", '"sun"'));
      await page.reload();
      await heading(page, "Season");
    }
    await unfold(page, "The next test");
    await unfold(page, "Details");
    await press(page, "Published bands");
    await press(page, "Highest touch");
    await assertAccessible(page);
    await page.setViewportSize(VIEWPORTS.small);
    assert.ok((await overflow(page)) <= 0, "320 px");
    await page.evaluate(() => (document.documentElement.style.fontSize = "200%"));
    assert.ok((await overflow(page)) <= 0, "200 % text");
    await context.close();
  });
}

test("prints the picture, the verdict and the table on one page", async () => {
  const { context, page } = await season();
  await jump(page);
  const pdf = await page.pdf({ format: "A4", margin: { top: "14mm", bottom: "14mm", left: "14mm", right: "14mm" } });
  const pages = pdf.toString("latin1").match(/\/Type\s*\/Page\b(?!s)/g)?.length;
  assert.equal(pages, 1);
  await context.close();
});
