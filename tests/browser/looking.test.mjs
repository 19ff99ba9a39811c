// Films in a browser that tells no frame times: the page finds them by looking at the picture.

import assert from "node:assert/strict";
import { test } from "node:test";

import { LANDS, LEAVES } from "./clips/make_clips.mjs";
import {
  RATES,
  TRUE_CM,
  chooseBoth,
  clip,
  openFilm,
  result,
  toFilm,
} from "./film_steps.mjs";
import { stage } from "./steps.mjs";

const here = stage();
const { open } = here;

/** In the page, before it starts: a browser that tells no frame times. */
const forgetFrameTimes = () => {
  delete HTMLVideoElement.prototype.requestVideoFrameCallback;
};

/** Looking through a film keeps the computer busy: a busy one may take minutes where half a minute is
 * common. How long it takes is no matter of this test. */
const PATIENCE_MS = 900_000;

async function openPatient() {
  const { page } = await open();
  page.setDefaultTimeout(PATIENCE_MS);
  return page;
}

// The frames are told by the picture alone: the slowest film, the fastest, and slow motion undone.
const LOOKED_AT = ["even-30.mp4", "even-240.mp4", "slow-240-as-30.mp4"];
for (const [name, rate, speed] of RATES.filter(([name]) => LOOKED_AT.includes(name))) {
  test(`without frame times the true height lies in the wider band of ${name}`, async (t) => {
    const page = await openPatient();
    await page.addInitScript(forgetFrameTimes);
    await toFilm(page, here.host.url);
    await openFilm(page, name);
    const { off, on } = await chooseBoth(page);
    assert.ok(off === Math.ceil(LEAVES * rate) && on === Math.ceil(LANDS * rate), `${off} ${on}`);
    await page.getByRole("radio", { name: speed, exact: true }).click();
    await page.getByText(/finds it by looking/).waitFor();
    const { height, low, high } = await result(page);
    assert.ok(low - 0.05 <= TRUE_CM && TRUE_CM <= high + 0.05, `${low} ${TRUE_CM} ${high}`);
    t.diagnostic(`${name}: ${height} cm, band ${low} to ${high}, truth ${TRUE_CM.toFixed(2)}`);
  });
}

test("without frame times and with blanked pixels a film is refused in words", async () => {
  const page = await openPatient();
  await page.addInitScript(forgetFrameTimes);
  await page.addInitScript(() => {
    CanvasRenderingContext2D.prototype.getImageData = (x, y, wide, high) =>
      new ImageData(wide, high);
  });
  await toFilm(page, here.host.url);
  await page.locator("#film-file").setInputFiles(clip("even-120.mp4"));
  await page.getByText(/cannot be told apart/).waitFor();
});
