// The steps of a test by film as a person takes them: frames are picked only by pixels read from the
// picture and by the page's own buttons.

import assert from "node:assert/strict";
import { fileURLToPath } from "node:url";

import { HIGH, LANDS, LEAVES, WIDE } from "./clips/make_clips.mjs";
import { mounted } from "./kit.mjs";
import { heading, taps } from "./steps.mjs";

export const clip = (name) => fileURLToPath(new URL(`clips/${name}`, import.meta.url));
export const TRUE_CM = (9.80665 / 8) * (LANDS - LEAVES) ** 2 * 100;

/** Somebody of 15 to 17 at the trials of a test timed by a clock. */
export async function atTrials(page, url, clock, jump = "Standing jump") {
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
export const still = (page) =>
  page.waitForFunction(
    () => document.querySelector("#film-at")?.dataset.busy === "false",
    undefined,
    // A browser without frame times looks again and again, the longer the busier the computer.
    { timeout: 900_000 },
  );

/** Opens a film and waits for its first frame. */
export async function openFilm(page, name) {
  const before = await page.locator("#film").getAttribute("src");
  await page.locator("#film-file").setInputFiles(clip(name));
  await page.waitForFunction(
    (before) => document.querySelector("#film").getAttribute("src") !== before,
    before,
  );
  await page.getByText(/^Frame at/).waitFor();
  await still(page);
}

/** What the picture shows: the number of its frame, and whether the feet are off the floor. */
export const seen = (page) =>
  page.evaluate(
    ([wide, high]) => {
      const canvas = document.createElement("canvas");
      Object.assign(canvas, { width: wide, height: high });
      const pen = canvas.getContext("2d");
      // An upright film has more floor below.
      pen.drawImage(document.querySelector("#film"), 0, 0, wide, high, 0, 0, wide, high);
      const grey = (x, y) => pen.getImageData(x, y, 1, 1).data[1];
      let number = 0;
      for (let bit = 0; bit < 12; bit += 1) {
        if (grey(14 + bit * 12, 10) > 128) number += 2 ** bit;
      }
      return { number, isOff: grey(67, 101) > 128 };
    },
    [WIDE, HIGH],
  );

export async function tap(page, name) {
  await page.getByRole("button", { name, exact: true }).click();
  await still(page);
  return seen(page);
}

/** Steps, as a person would, to the first frame for which `is` turns true. */
export async function findFirst(page, is) {
  let at = await seen(page);
  while (!is(at)) at = await tap(page, "+5 frames");
  while (is(at)) at = await tap(page, "−1 frame");
  return tap(page, "+1 frame");
}

/** Chooses both frames of the jump; tells their numbers. */
export async function chooseBoth(page) {
  const off = await findFirst(page, ({ isOff }) => isOff);
  await tap(page, "Feet are off in this frame");
  assert.deepEqual(await seen(page), off, "choosing moved the film");
  const on = await findFirst(page, ({ isOff }) => !isOff);
  await tap(page, "A foot touches in this frame");
  return { off: off.number, on: on.number };
}

export const centimetres = (text) => [...text.matchAll(/(\d+\.\d)\scm/g)].map(([, cm]) => Number(cm));

/** The height and its band as the page says them. */
export async function result(page) {
  const [height] = centimetres(await page.locator("#film-height").textContent());
  const [low, high] = centimetres(await page.locator("#film-band").textContent());
  return { height, low, high };
}

export const RATES = [
  ["even-30.mp4", 30, "No, true speed"],
  ["even-60.mp4", 60, "No, true speed"],
  ["even-120.mp4", 120, "No, true speed"],
  ["even-240.mp4", 240, "No, true speed"],
  ["uneven.mp4", 120, "No, true speed"],
  ["slow-240-as-30.mp4", 240, "Slow, 240 a second"],
];

/** Opens the film page of a test timed by a film. */
export async function toFilm(page, url) {
  await atTrials(page, url, "Film");
  await page.getByRole("link", { name: "Open the film page" }).click();
}
