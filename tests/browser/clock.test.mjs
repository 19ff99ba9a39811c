// Time in the air: typed by hand, and found in films whose true instants their generator set. Frames
// are picked only by pixels read from the picture and by the page's own buttons.

import assert from "node:assert/strict";
import { fileURLToPath } from "node:url";
import { test } from "node:test";

import { HIGH, LANDS, LEAVES, WIDE } from "./clips/make_clips.mjs";
import { assertAccessible, mounted, press } from "./kit.mjs";
import { heading, saved, savedTest, stage, taps } from "./steps.mjs";

const here = stage();
const { open } = here;
const clip = (name) => fileURLToPath(new URL(`clips/${name}`, import.meta.url));
const TRUE_CM = (9.80665 / 8) * (LANDS - LEAVES) ** 2 * 100;

/** Somebody of 15 to 17 at the trials of a test timed by a clock. */
async function atTrials(page, url, clock, jump = "Standing jump") {
  await page.goto(url);
  await mounted(page);
  const isNew = (await page.getByRole("link", { name: "Add" }).count()) === 0;
  await page.goto(`${url}#/clock`);
  await heading(page, "Time in the air");
  const person = taps(page);
  await person.choose(clock);
  await person.choose(jump);
  await person.press("Start a test");
  if (isNew) {
    await person.choose("15 to 17");
    await person.press("Go to the ready check");
  }
  for (const question of ["unwell", "fits", "legs"]) await person.no(question);
  await person.tick("All of this is true");
  await person.press("Go to warm-up");
  await person.press("I am warm");
  await heading(page, "Jumps");
  await page.getByRole("button", { name: "No", exact: true }).click();
  return person;
}

/** Waits until the film is looked through. */
const still = (page) =>
  page.waitForFunction(() => document.querySelector("#film-at")?.dataset.busy === "false");

/** Opens a film and waits for its first frame. */
async function openFilm(page, name) {
  await page.locator("#film-file").setInputFiles(clip(name));
  await page.getByText(/^Frame at/).waitFor();
  await still(page);
}

/** What the picture shows: the number of its frame, and whether the feet are off the floor. */
const seen = (page) =>
  page.evaluate(
    ([wide, high]) => {
      const canvas = document.createElement("canvas");
      Object.assign(canvas, { width: wide, height: high });
      const pen = canvas.getContext("2d");
      pen.drawImage(document.querySelector("#film"), 0, 0, wide, high);
      const grey = (x, y) => pen.getImageData(x, y, 1, 1).data[1];
      let number = 0;
      for (let bit = 0; bit < 12; bit += 1) {
        if (grey(14 + bit * 12, 10) > 128) number += 2 ** bit;
      }
      return { number, isOff: grey(67, 101) > 128 };
    },
    [WIDE, HIGH],
  );

async function tap(page, name) {
  await page.getByRole("button", { name, exact: true }).click();
  await still(page);
  return seen(page);
}

/** Steps, as a person would, to the first frame for which `is` turns true. */
async function findFirst(page, is) {
  let at = await seen(page);
  while (!is(at)) at = await tap(page, "+5 frames");
  while (is(at)) at = await tap(page, "−1 frame");
  return tap(page, "+1 frame");
}

/** Chooses both frames of the jump; tells their numbers. */
async function chooseBoth(page) {
  const off = await findFirst(page, ({ isOff }) => isOff);
  await tap(page, "Feet are off in this frame");
  assert.deepEqual(await seen(page), off, "choosing moved the film");
  const on = await findFirst(page, ({ isOff }) => !isOff);
  await tap(page, "A foot touches in this frame");
  return { off: off.number, on: on.number };
}

const centimetres = (text) => [...text.matchAll(/(\d+\.\d)\scm/g)].map(([, cm]) => Number(cm));

/** The height and its band as the page says them. */
async function result(page) {
  const [height] = centimetres(await page.locator("#film-height").textContent());
  const [low, high] = centimetres(await page.locator("#film-band").textContent());
  return { height, low, high };
}

const RATES = [
  ["even-30.mp4", 30, "No, true speed"],
  ["even-60.mp4", 60, "No, true speed"],
  ["even-120.mp4", 120, "No, true speed"],
  ["even-240.mp4", 240, "No, true speed"],
  ["uneven.mp4", 120, "No, true speed"],
  ["slow-240-as-30.mp4", 240, "Slow, 240 a second"],
];

for (const [name, rate, speed] of RATES) {
  test(`the true height lies in the band of ${name}`, async (t) => {
    const { page, watch } = await open();
    await atTrials(page, here.host.url, "Film");
    await page.getByRole("link", { name: "Open the film page" }).click();
    await openFilm(page, name);
    const { off, on } = await chooseBoth(page);
    const grid = name === "uneven.mp4" ? 240 : rate;
    assert.ok(off / grid >= LEAVES && on / grid >= LANDS, `frames ${off} and ${on}`);
    assert.equal(await page.locator("#film-height").count(), 0, "the speed was guessed");
    await page.getByRole("radio", { name: speed, exact: true }).click();
    const { height, low, high } = await result(page);
    // A tenth of a centimetre is what is shown.
    assert.ok(low - 0.05 <= TRUE_CM && TRUE_CM <= high + 0.05, `${low} ${TRUE_CM} ${high}`);
    const most = Math.sqrt((9.80665 * TRUE_CM) / 2 / 100) * 100 / rate;
    assert.ok(Math.abs(height - TRUE_CM) <= most + 0.15, `${height} is off by more than ${most}`);
    t.diagnostic(`${name}: ${height} cm, band ${low} to ${high}, truth ${TRUE_CM.toFixed(2)}`);
    const line = await page.getByText(/stands in no line/).count();
    assert.equal(line, rate < 120 ? 1 : 0);
    await press(page, "Keep this trial");
    await page.getByRole("link", { name: "Back to the jumps" }).click();
    await page.getByRole("button", { name: /^Trial 1, / }).waitFor();
    watch.assertSealed(here.host.origin);
    watch.assertCalm();
  });
}
