// A whole jump test as people do it, in a real browser on a phone-sized screen.

import assert from "node:assert/strict";
import { test } from "node:test";

import { arrived, assertAccessible, keptOffline, mounted, press, startBrowser } from "./kit.mjs";
import {
  LOCALE,
  firstOpen,
  heading,
  keep,
  passReady,
  saved,
  savedEvent,
  stage,
  wholeTest,
} from "./steps.mjs";

const here = stage();
const { open } = here;

test("from floor heights in centimetres, and still there after a reload", async () => {
  const { page, watch } = await open();
  await page.goto(here.host.url);
  await keptOffline(page);
  await wholeTest(page, here.host.url);
  const loaded = watch.requests.length;
  await press(page, "Save result");
  await heading(page, "Result");
  await page.getByText("Your best today: 43.5").waitFor();
  await page.getByText("Your usual jump: 42.0").first().waitFor();
  await page.getByText("Saved on this device.").waitFor();
  // The browser itself asks for the window's icon again at a new address.
  const asked = watch.requests.slice(loaded).filter((url) => !url.endsWith("/icon.svg"));
  assert.deepEqual(asked, [], "saving asked for something");
  await page.reload();
  await mounted(page);
  await page.getByText("Your best today: 43.5").waitFor();
  await page.goto(`${here.host.url}#/tests`);
  await page.getByRole("link", { name: /43\.5/ }).waitFor();
  watch.assertSealed(here.host.origin);
  watch.assertCalm();
  const served = here.host.requests();
  assert.ok(served.length > 0 && served.every((line) => !line.includes("result")));
});

test("a doubtful jump typed last is asked about before the readings, never left out unseen", async () => {
  const { page } = await open();
  const person = await firstOpen(page, here.host.url);
  await passReady(person);
  await person.press("Go to the reach");
  for (const reach of ["224", "225", "224.5"]) await keep(page, reach);
  await press(page, "Go on to the jumps");
  await page.getByRole("button", { name: "No", exact: true }).click();
  for (const mark of ["265", "266", "266"]) await keep(page, mark);
  await page.locator("#main-action", { hasText: "Check the readings" }).waitFor();
  // Far above the other jumps: a question, and no way past it.
  await page.locator("#entry").fill("300");
  await page.locator("#main-action", { hasText: "Keep trial 4" }).waitFor();
  await press(page, "Finish");
  await page.getByRole("button", { name: "It is right" }).waitFor();
  assert.match(page.url(), /#\/jumps$/);
  await press(page, "It is right");
  await press(page, "Finish");
  await heading(page, "Check the readings");
  const kept = await page.locator("main").innerText();
  assert.match(kept, /Trial 4\D+300/);
});

test("what is missing is shown, and a change that was begun can be given up", async () => {
  const { page } = await open();
  const person = await firstOpen(page, here.host.url);
  await person.press("Go to the ready check");
  await heading(page, "Ready check");
  const shown = async (id) => {
    await press(page, "Show what is missing");
    await page.waitForFunction((id) => document.activeElement.id === id, id);
  };
  await shown("unwell-0");
  await person.no("unwell");
  await person.no("fits");
  await shown("legs-0");
  await page.locator("#legs-1").click();
  await shown("leg-kind-0");
  await person.no("legs");
  await shown("looked");
  await person.tick("All of this is true");
  await person.press("Go to warm-up");
  await person.press("I am warm");
  await person.press("Go to the reach");
  for (const reach of ["224", "225", "224.5"]) await keep(page, reach);
  await press(page, "Go on to the jumps");
  await page.getByRole("button", { name: "No", exact: true }).click();
  for (const mark of ["265", "266", "266"]) await keep(page, mark);
  await press(page, "Check the readings");
  await heading(page, "Check the readings");
  await page.locator(".reading", { hasText: "Trial 2" }).click();
  await page.locator("#entry").fill("270");
  await press(page, "Leave it as it was");
  await press(page, "Check the readings");
  await heading(page, "Check the readings");
  const readings = await page.locator(".reading").allInnerTexts();
  assert.ok(readings.some((text) => /266/.test(text)) && !readings.some((text) => /270/.test(text)));
});

test("fourteen taps at most to the first reach, and no health answer preset", async () => {
  const { page } = await open();
  const person = await firstOpen(page, here.host.url);
  await person.press("Go to the ready check");
  for (const question of ["unwell", "fits", "legs"]) {
    const chosen = page.locator(`#${question} [aria-checked="true"]`);
    assert.equal(await chosen.count(), 0, `${question} is preset`);
    await person.no(question);
  }
  await person.tick("All of this is true");
  await person.press("Go to warm-up");
  await person.press("I am warm");
  await person.press("Go to the reach");
  await page.locator("#entry").waitFor();
  assert.ok(person.taps <= 14, `${person.taps} taps`);
});

test("in inches, as the distance between the marks, with the fraction keys", async () => {
  const { page, watch } = await open();
  const person = await firstOpen(page, here.host.url);
  await person.choose("Inches");
  await passReady(person);
  await person.choose("Between the marks");
  await person.choose("⅛ in");
  await person.press("Go to the reach mark");
  await person.press("The reach mark is on the wall");
  await page.getByRole("button", { name: "No", exact: true }).click();
  for (const [inches, part] of [["16", "½"], ["17", "⅛"], ["16", "¾"]]) {
    await page.locator("#entry").fill(inches);
    await person.choose(part);
    await page.locator("#main-action").click();
  }
  await press(page, "Check the readings");
  await press(page, "Save result");
  // 16 1/2, 17 1/8 and 16 3/4 in: the best shows as 17 1/4, to the nearest quarter.
  await page.getByText(/Your best today: 17\s¼/).waitFor();
  watch.assertCalm();
});

test("a half-typed test comes back after a reload", async () => {
  const { page, watch } = await open();
  const person = await firstOpen(page, here.host.url);
  await passReady(person);
  await person.press("Go to the reach");
  for (const reach of ["224", "225"]) await keep(page, reach);
  await page.locator("#entry").fill("22");
  await page.reload();
  await mounted(page);
  assert.equal(await page.locator("#entry").inputValue(), "22");
  await keep(page, "224.5");
  await page.getByText("They agree.").waitFor();
  await page.goto(here.host.url);
  await press(page, "Go on with your test");
  await heading(page, "Jumps");
  watch.assertCalm();
});

test("with storage blocked the test goes on, and the page says it keeps nothing", async () => {
  const { page } = await open();
  await page.addInitScript(() => {
    Object.defineProperty(window, "localStorage", {
      get: () => {
        throw new DOMException("blocked", "SecurityError");
      },
    });
  });
  await wholeTest(page, here.host.url);
  await press(page, "Save result");
  await page.getByText(/does not let the page keep anything/).waitFor();
  await page.getByText("Your best today: 43.5").waitFor();
});

test("tired legs are told to wait, with a calendar file; going on is noted", async () => {
  const { page } = await open();
  const person = await firstOpen(page, here.host.url);
  await person.press("Go to the ready check");
  await person.no("unwell");
  await person.no("fits");
  await person.yes("legs");
  await person.choose("Training");
  await person.choose("Yesterday");
  await person.choose("Evening");
  await person.tick("All of this is true");
  await page.getByRole("heading", { name: /Better wait until/ }).waitFor();
  const coming = page.waitForEvent("download");
  await person.press("Remind me");
  const event = await savedEvent(await coming);
  assert.equal(event.title, "Jump test: legs are rested");
  assert.ok(event.uid.length > 0 && event.minutes > 0 && event.alarmMinutes <= 0);
  assert.equal(event.zone, "UTC");
  const told = event.start.toLocaleString(LOCALE.locale, {
    weekday: "long",
    hour: "2-digit",
    minute: "2-digit",
    timeZone: LOCALE.timezoneId,
  });
  const [weekday, time] = [told.split(/[ ,]/)[0], told.match(/\d\d:\d\d/)[0]];
  await page.getByRole("heading", { name: `Better wait until ${weekday}, ${time}` }).waitFor();
  await person.press("Test now, noted as tired");
  await person.press("I am warm");
  await person.press("Go to the reach");
  for (const reach of ["224", "225", "224.5"]) await keep(page, reach);
  await press(page, "Go on to the jumps");
  await page.getByRole("button", { name: "No", exact: true }).click();
  for (const mark of ["265.5", "266.5", "267"]) await keep(page, mark);
  await press(page, "Check the readings");
  await page.getByText("Noted as tired.").waitFor();
  await press(page, "Save result");
  await page.getByText(/Noted as tired: rested, you may jump higher/).waitFor();
});

test("unwell leads home and nowhere else", async () => {
  const { page } = await open();
  const person = await firstOpen(page, here.host.url);
  await person.press("Go to the ready check");
  await person.yes("unwell");
  await page.getByRole("heading", { name: "No test today" }).waitFor();
  assert.equal(await page.getByRole("button", { name: "Go to warm-up" }).count(), 0);
  await person.press(/^Home$/);
  await heading(page, "Two Marks");
});

test("a slip of the pen is offered back, and an odd value can be kept", async () => {
  const { page } = await open();
  const person = await firstOpen(page, here.host.url);
  await passReady(person);
  await person.press("Go to the reach");
  await page.locator("#entry").fill("2240");
  await page.getByText(/cannot be right/).waitFor();
  await page.locator("#main-action").click();
  assert.equal(await page.locator("#entry").inputValue(), "2240", "what was typed is lost");
  await person.press(/I meant 224\.0/);
  await page.locator("#main-action").click();
  await page.getByRole("button", { name: /Reach 1, 224\.0/ }).waitFor();
  await page.locator("#entry").fill("150");
  await page.getByText(/unusual for the age/).waitFor();
  await person.press("It is right");
  await page.locator("#main-action").click();
  await page.getByRole("button", { name: /Reach 2, 150\.0/ }).waitFor();
});

test("with the keyboard alone, from the first page to a kept reach", async () => {
  const { page } = await open();
  await page.goto(here.host.url);
  await mounted(page);
  const reachByTab = async (find) => {
    for (let stop = 0; stop < 60; stop += 1) {
      if (await page.evaluate(find)) return;
      await page.keyboard.press("Tab");
    }
    assert.fail(`no tab stop: ${find}`);
  };
  const main = () => document.activeElement?.id === "main-action";
  await reachByTab(main);
  await page.keyboard.press("Enter");
  await heading(page, "Who is testing?");
  await reachByTab(() => document.activeElement?.id === "age-0");
  await page.keyboard.press("ArrowRight");
  await page.keyboard.press("ArrowRight");
  await reachByTab(main);
  await page.keyboard.press("Enter");
  await heading(page, "Ready check");
  for (const id of ["unwell", "fits", "legs"]) {
    await reachByTab(`document.activeElement?.id === "${id}-0"`);
    await page.keyboard.press("Space");
  }
  await reachByTab(() => document.activeElement?.id === "looked");
  await page.keyboard.press("Space");
  await reachByTab(main);
  await page.keyboard.press("Enter");
  await heading(page, "Warm-up");
  await reachByTab(() => document.activeElement?.textContent === "I am warm");
  await page.keyboard.press("Enter");
  await heading(page, "Your test");
  await reachByTab(main);
  await page.keyboard.press("Enter");
  await heading(page, "Standing reach");
  await reachByTab(() => document.activeElement?.id === "entry");
  await page.keyboard.type("224.5");
  await page.keyboard.press("Enter");
  await page.getByRole("button", { name: /Reach 1, 224\.5/ }).waitFor();
});

test("every page is free of what a program can find, in light, dark and sun", async () => {
  const routes = ["", "who", "tests", "clock", "clock-and-wall", "data", "bands", "sure", "words", "example", "about"];
  for (const look of ["light", "dark", "sun"]) {
    const { page, context } = await open();
    await page.addInitScript((name) => {
      localStorage.setItem("two-marks/theme", JSON.stringify(name));
    }, look);
    const person = await firstOpen(page, here.host.url);
    await assertAccessible(page);
    await person.press("Go to the ready check");
    await heading(page, "Ready check");
    await assertAccessible(page);
    for (const question of ["unwell", "fits", "legs"]) await person.no(question);
    await person.tick("All of this is true");
    await person.press("Go to warm-up");
    await heading(page, "Warm-up");
    await assertAccessible(page);
    await person.press("I am warm");
    await heading(page, "Your test");
    await assertAccessible(page);
    await person.press("Go to the reach");
    for (const reach of ["224", "225", "224.5"]) await keep(page, reach);
    await assertAccessible(page);
    await press(page, "Go on to the jumps");
    await page.getByRole("button", { name: "No", exact: true }).click();
    for (const mark of ["265.5", "266.5", "268"]) await keep(page, mark);
    await assertAccessible(page);
    await press(page, "Finish");
    await heading(page, "Check the readings");
    await assertAccessible(page);
    await press(page, "Save result");
    await page.getByText("Saved on this device.").waitFor();
    await page.getByRole("radio", { name: "Boys and men" }).click();
    await page.getByText(/Boys 13–15, Indonesia/).first().waitFor();
    await assertAccessible(page);
    for (const route of routes) {
      await page.goto(`${here.host.url}#/${route}`);
      await arrived(page);
      await assertAccessible(page);
    }
    await context.close();
  }
});

test("no page is wider than a narrow screen", async () => {
  const { page } = await open({ viewport: { width: 320, height: 640 } });
  await wholeTest(page, here.host.url);
  await press(page, "Save result");
  await page.getByText("Your best today: 43.5").waitFor();
  for (const route of ["", "who", "ready", "tests", "clock", "clock-and-wall", "data", "bands", "sure", "words", "example", "about"]) {
    await page.goto(`${here.host.url}#/${route}`);
    await arrived(page);
    const width = await page.evaluate(() => document.documentElement.scrollWidth);
    assert.ok(width <= 320, `#/${route} is ${width} px wide`);
  }
});

test("text at 200 % on a narrow screen hides nothing and runs over nowhere", async () => {
  // The browser's own default size, as a person sets it: media queries see it too.
  const large = await startBrowser({ args: ["--blink-settings=defaultFontSize=32"] });
  try {
    const { page } = await large.open({ ...LOCALE, viewport: { width: 320, height: 640 } });
    const fits = async () => {
      const width = await page.evaluate(() => document.documentElement.scrollWidth);
      assert.ok(width <= 320, `${page.url()} is ${width} px wide`);
    };
    const person = await firstOpen(page, here.host.url);
    const size = () => getComputedStyle(document.documentElement).fontSize;
    assert.equal(await page.evaluate(size), "32px");
    await fits();
    await person.press("Go to the ready check");
    // A question keeps room for whole words.
    const question = await page.locator("#unwell-q").boundingBox();
    assert.ok(question.width > 150, `the question is ${question.width} px wide`);
    await fits();
    for (const id of ["unwell", "fits", "legs"]) await person.no(id);
    await person.tick("All of this is true");
    await person.press("Go to warm-up");
    await fits();
    await person.press("I am warm");
    await fits();
    await person.press("Go to the reach");
    for (const reach of ["224", "225", "224.5"]) await keep(page, reach);
    await fits();
    await press(page, "Go on to the jumps");
    await page.getByRole("button", { name: "No", exact: true }).click();
    for (const mark of ["265.5", "266.5", "268"]) await keep(page, mark);
    await fits();
    await press(page, "Finish");
    await fits();
    await press(page, "Save result");
    await saved(page);
    await fits();
  } finally {
    await large.stop();
  }
});
