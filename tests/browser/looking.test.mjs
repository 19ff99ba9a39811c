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

/** In the page, before it starts: a browser that now and then tells the end of a seek long before it
 * shows what was sought. Until then the page reads the picture that it read before. */
const showLate = () => {
  const LATE_PAINTS = 15;
  // Not while the film is opened: nothing there may teach the page how late pictures come.
  const isLate = (seek) => seek > 40 && seek % 40 === 0;
  const draw = CanvasRenderingContext2D.prototype.drawImage;
  const before = Object.assign(document.createElement("canvas"), { width: 320, height: 240 });
  const pen = before.getContext("2d", { willReadFrequently: true });
  let seeks = 0;
  let late = 0;
  const paint = () => {
    late = Math.max(0, late - 1);
    requestAnimationFrame(paint);
  };
  requestAnimationFrame(paint);
  const sought = () => {
    seeks += 1;
    if (isLate(seeks)) late = LATE_PAINTS;
  };
  document.addEventListener("seeked", sought, { capture: true });
  // The page reads pictures by five arguments; the test's own eyes use nine.
  CanvasRenderingContext2D.prototype.drawImage = function (source, ...place) {
    const isReading = source instanceof HTMLVideoElement && place.length === 4;
    draw.call(this, isReading && late > 0 ? before : source, ...place);
    if (isReading && isLate(seeks + 1)) draw.call(pen, this.canvas, 0, 0);
  };
};

/** Looking through a film keeps the computer busy: a busy one may take minutes where half a minute is
 * common. How long it takes is no matter of this test. */
const PATIENCE_MS = 900_000;

async function openPatient() {
  const { page } = await open();
  page.setDefaultTimeout(PATIENCE_MS);
  return page;
}

// The frames are told by the picture alone: the slowest film, the fastest, and slow motion undone, where
// one frame at the wrong time would be told as uneven and refused.
const LOOKED_AT = [
  ["even-30.mp4", []],
  ["even-240.mp4", []],
  ["slow-240-as-30.mp4", [showLate]],
];
for (const [name, faults] of LOOKED_AT) {
  const [, rate, speed] = RATES.find(([other]) => other === name);
  const how = faults.map((fault) => `, ${fault.name}`).join("");
  test(`without frame times the true height lies in the wider band of ${name}${how}`, async (t) => {
    const page = await openPatient();
    for (const fault of [forgetFrameTimes, ...faults]) await page.addInitScript(fault);
    await toFilm(page, here.host.url);
    await openFilm(page, name);
    const { off, on } = await chooseBoth(page);
    assert.ok(off === Math.ceil(LEAVES * rate) && on === Math.ceil(LANDS * rate), `${off} ${on}`);
    await page.getByRole("radio", { name: speed, exact: true }).click();
    // A film that is refused says so in the same place, and fails here with its words.
    await page.waitForFunction(() => document.querySelector("#film-said").textContent !== "");
    assert.match(await page.locator("#film-said").textContent(), /compares the pictures/);
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
