// One result as a card: shared with what was ticked, opened in another browser context, kept only on
// request. The link rides in the fragment, which no server sees.

import test from "node:test";
import assert from "node:assert/strict";

import { arrived, assertAccessible, fill, follow, mounted, press, readCode } from "./kit.mjs";
import { heading, saved, savedTest, stage } from "./steps.mjs";

const here = stage();

/** The pairs of a card, as they are read. */
const pairsOf = (page) =>
  page.locator(".card dl").evaluate((list) => {
    const words = [...list.children].map((one) => one.textContent);
    return Object.fromEntries(words.flatMap((word, at) => (at % 2 === 0 ? [[word, words[at + 1]]] : [])));
  });

const linkOf = async (page) => (await page.locator(".link-text").textContent()).trim();

/** Everything that this browser keeps of people and tests. */
const keptIn = (page) =>
  page.evaluate(() =>
    Object.fromEntries(Object.entries(localStorage).filter(([key]) => key.includes("/r/"))),
  );

/** Saves a test of 44 cm, renamed Wren, and opens the page of its card. */
async function sharer() {
  const opened = await here.open({ permissions: ["clipboard-write", "clipboard-read"] });
  const { page } = opened;
  await savedTest(page, here.host.url);
  const result = await page.evaluate(() => location.href);
  await page.goto(`${here.host.url}#/`);
  await page.getByRole("button", { name: "Me", exact: true }).click();
  await heading(page, "Change Me");
  await fill(page, "Name or nickname", "Wren");
  await page.locator("#main-action").click();
  await heading(page, "Two Marks");
  await page.goto(result);
  await heading(page, "Result");
  await follow(page, "Share a card");
  await heading(page, "Share a card");
  return opened;
}

test("what is ticked is on the card, what is not is nowhere in the link, and the code holds the link", async (t) => {
  const { page, watch } = await sharer();
  for (const box of await page.getByRole("checkbox").all()) assert.equal(await box.isChecked(), false);
  const bare = await linkOf(page);
  assert.deepEqual(await pairsOf(page), { Jump: "Standing jump" });

  await page.getByRole("checkbox", { name: "Date" }).check();
  await page.getByRole("checkbox", { name: "Usual jump" }).check();
  const link = await linkOf(page);
  assert.notEqual(link, bare);
  assert.match(link, /#\/card\/R[2-9A-Y]+$/);
  assert.equal(await readCode(page.locator(".qr--slip")), link);
  await press(page, "Copy the link");
  await page.getByText("The link is copied.").waitFor();
  assert.equal(await page.evaluate(() => navigator.clipboard.readText()), link);
  const told = await pairsOf(page);
  assert.deepEqual(Object.keys(told), ["Jump", "Usual jump and ±", "Date"]);
  await assertAccessible(page);
  for (const box of await page.getByRole("checkbox").all()) await box.check();
  const whole = await linkOf(page);
  assert.deepEqual(Object.keys(await pairsOf(page)), [
    "Jump",
    "Usual jump and ±",
    "Standing reach",
    "Date",
    "Age group",
    "Nickname",
  ]);
  assert.equal(await readCode(page.locator(".qr--slip")), whole);
  const signs = (text) => text.split("#/card/")[1].length;
  t.diagnostic(`signs of a card: ${signs(bare)} bare, ${signs(link)} with date and usual jump, ${signs(whole)} whole`);

  // Another phone, on which somebody else has a test of their own.
  const other = await here.open();
  await savedTest(other.page, here.host.url);
  const before = await keptIn(other.page);
  assert.ok(Object.keys(before).length >= 2, "nothing was kept, so nothing was compared");
  await other.page.goto(link);
  await heading(other.page, "A jump result");
  await other.page.getByText("Jump height 43.5 cm").waitFor();
  assert.deepEqual(await pairsOf(other.page), told);
  const main = await other.page.locator("main").textContent();
  for (const untold of ["Wren", "224", "15 to 17"]) assert.ok(!main.includes(untold), untold);
  await assertAccessible(other.page);
  assert.deepEqual(await keptIn(other.page), before, "something was kept without asking");

  for (const one of [{ page, watch }, other]) {
    one.watch.assertSealed(here.host.origin);
    one.watch.assertCalm();
  }
  const log = here.host.requests();
  assert.ok(log.length > 0, "the server saw no request");
  const codes = [bare, link, whole].map((text) => text.split("#/card/")[1]);
  const secret = log.filter((line) => line.includes("#") || codes.some((code) => line.includes(code)));
  assert.deepEqual(secret, [], "the fragment reached the server");
});

test("a card is kept on request, for somebody new or somebody known, as added by hand", async () => {
  const { page } = await sharer();
  for (const name of ["Date", "Nickname", "Age group", "Standing reach"]) {
    await page.getByRole("checkbox", { name }).check();
  }
  const link = await linkOf(page);

  const { page: receiver, watch } = await here.open();
  await receiver.goto(link);
  await mounted(receiver);
  await heading(receiver, "A jump result");
  await press(receiver, "Keep it on this device");
  assert.deepEqual(await keptIn(receiver), {});
  assert.equal(await receiver.getByLabel("Name or nickname").inputValue(), "Wren");
  await assertAccessible(receiver);
  await fill(receiver, "Name or nickname", " ");
  await press(receiver, "Add a person");
  await receiver.getByText("Type a name of up to 40 letters.").waitFor();
  await fill(receiver, "Name or nickname", "Wren");
  await press(receiver, "Add a person");
  await heading(receiver, "Add an earlier result");
  await receiver.getByText("Test of Wren").waitFor();
  const records = async () => Object.values(await keptIn(receiver)).map((text) => JSON.parse(text));
  assert.deepEqual((await records()).map(({ k }) => k), ["p"], "a result was kept before it was saved");
  await press(receiver, "Save the result");
  await saved(receiver);
  await receiver.getByText("Added by hand.").waitFor();
  const kept = (await records()).find(({ k }) => k === "t");
  assert.equal(kept.from, "hand");
  assert.equal(kept.note, "From a shared card.");
  assert.deepEqual([kept.reach, kept.trials, kept.top], [[2245], [2680], true]);

  // The same card for somebody who is here already.
  await receiver.goto(link);
  await heading(receiver, "A jump result");
  await press(receiver, "Keep it on this device");
  await press(receiver, "Wren");
  await heading(receiver, "Add an earlier result");
  await press(receiver, "Save the result");
  await saved(receiver);
  const all = await records();
  assert.deepEqual(all.map(({ k }) => k).sort(), ["p", "t", "t"]);
  watch.assertCalm();
  watch.assertSealed(here.host.origin);
});

test("a card without its day cannot be kept, and says so", async () => {
  const { page } = await sharer();
  const link = await linkOf(page);
  const { page: receiver } = await here.open();
  await receiver.goto(link);
  await heading(receiver, "A jump result");
  await receiver.getByText("its day is not on the card").waitFor();
  assert.equal(await receiver.getByRole("button", { name: "Keep it on this device" }).count(), 0);
});

test("a damaged, cut, huge or newer card is refused in words, and nothing is kept", async () => {
  const { page } = await sharer();
  const link = await linkOf(page);
  const [base, code] = link.split("#/card/");
  const wrong = code.replace(/.$/, (sign) => (sign === "2" ? "3" : "2"));
  const { page: receiver, watch } = await here.open();
  await receiver.goto(base);
  await mounted(receiver);
  for (const [text, words] of [
    [wrong, "This link is cut off, or a character in it is wrong."],
    [code.slice(0, -3), "This link is cut off, or a character in it is wrong."],
    ["<script>alert(1)</script>", "This link is cut off, or a character in it is wrong."],
    [code.repeat(30), "This link is too long to be a card."],
    ["", "There is no card in this link."],
    // The code of a slip, of another kind: five signs worked by hand in src/class/code.rs.
    ["J27RK", "This link is from a newer Two Marks."],
  ]) {
    await receiver.goto(`${base}#/words`);
    await heading(receiver, "Words");
    await receiver.goto(`${base}#/card/${text}`);
    await heading(receiver, "A jump result");
    await receiver.getByText(words).waitFor();
    assert.equal(await receiver.locator(".card").count(), 0);
  }
  await arrived(receiver);
  await assertAccessible(receiver);
  assert.deepEqual(await keptIn(receiver), {});
  watch.assertCalm();
});
