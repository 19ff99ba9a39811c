// Time in the air: typed by hand, and found in films whose true instants their generator set. Frames
// are picked only by pixels read from the picture and by the page's own buttons.

import assert from "node:assert/strict";
import { readFileSync, statSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { test } from "node:test";

import { CUT, LANDS, LEAVES, TALL, WIDE } from "./clips/make_clips.mjs";
import { makeLongFilm } from "./clips/long_film.mjs";
import {
  RATES,
  TRUE_CM,
  atTrials,
  chooseBoth,
  clip,
  openFilm,
  result,
  seen,
  still,
  tap,
  toFilm,
} from "./film_steps.mjs";
import { assertAccessible, press, scratch, startBrowser } from "./kit.mjs";
import { LOCALE, heading, keep, saved, savedTest, stage, taps } from "./steps.mjs";

const here = stage();
const { open } = here;

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

test("the true height lies in the band of a film as phones write them", async (t) => {
  const { page, watch } = await open();
  await toFilm(page, here.host.url);
  await openFilm(page, "like-a-phone.mov");
  const shape = await page.evaluate(() => {
    const { videoWidth, videoHeight } = document.querySelector("#film");
    return [videoWidth, videoHeight];
  });
  assert.deepEqual(shape, [WIDE, TALL], "the film lies on its side");
  const first = await seen(page);
  t.diagnostic(`cut off: ${CUT * 240} frames; the first one shown is ${first.number}`);
  const { off, on } = await chooseBoth(page);
  assert.deepEqual([off, on], [Math.ceil(LEAVES * 240), Math.ceil(LANDS * 240)]);
  await page.getByRole("radio", { name: "No, true speed" }).click();
  const { height, low, high } = await result(page);
  assert.ok(low - 0.05 <= TRUE_CM && TRUE_CM <= high + 0.05, `${low} ${TRUE_CM} ${high}`);
  t.diagnostic(`like-a-phone.mov: ${height} cm, band ${low} to ${high}, truth ${TRUE_CM.toFixed(2)}`);
  watch.assertSealed(here.host.origin);
  watch.assertCalm();
});

/**
 * Gives a function that tells how much more memory the pages' processes of a browser have filled at
 * any moment since, in bytes. The kernel (Linux) notes the most.
 */
async function memoryOf(browser) {
  const session = await browser.newBrowserCDPSession();
  const { processInfo } = await session.send("SystemInfo.getProcessInfo");
  const ids = processInfo.filter(({ type }) => type === "renderer").map(({ id }) => id);
  const sum = (field) =>
    ids.reduce((total, id) => {
      const status = readFileSync(`/proc/${id}/status`, "utf8");
      return total + Number(new RegExp(`^${field}:\\s+(\\d+) kB`, "m").exec(status)[1]) * 1024;
    }, 0);
  // Puts the kernel's note of the most back to what is filled now.
  for (const id of ids) writeFileSync(`/proc/${id}/clear_refs`, "5");
  const begin = sum("VmRSS");
  return () => sum("VmHWM") - begin;
}

/**
 * How much more memory a film of 500 MB may take. Measured on 26 November 2026: 53 to 76 MB more, and 543 MB
 * more after the same file was read whole by `File.arrayBuffer()` in the same page.
 */
const FILM_MEMORY_MAX = 250e6;

test("a film of 20 minutes and 500 MB is measured by its first minute, in bounded memory", async (t) => {
  const place = scratch();
  const its = await startBrowser();
  try {
    const film = join(place.folder, "long.mp4");
    makeLongFilm(clip("even-120.mp4"), film, 750, 500e6);
    assert.ok(statSync(film).size >= 500e6);
    const { page, watch } = await its.open(LOCALE);
    await toFilm(page, here.host.url);
    const most = await memoryOf(its.browser);
    await page.locator("#film-file").setInputFiles(film);
    await page.getByText(/^Frame at/).waitFor();
    await still(page);
    assert.equal(await page.evaluate(() => document.querySelector("#film").duration), 1200);
    // Eight seconds are five rounds of the short film.
    for (let second = 0; second < 8; second += 1) await tap(page, "+1 second");
    assert.equal((await seen(page)).number, 0);
    const { off, on } = await chooseBoth(page);
    assert.deepEqual([off, on], [Math.ceil(LEAVES * 120), Math.ceil(LANDS * 120)]);
    await page.getByRole("radio", { name: "No, true speed" }).click();
    const { height, low, high } = await result(page);
    assert.ok(low - 0.05 <= TRUE_CM && TRUE_CM <= high + 0.05, `${low} ${TRUE_CM} ${high}`);
    const filled = most();
    t.diagnostic(`${height} cm, band ${low} to ${high}; ${Math.round(filled / 1e6)} MB more`);
    assert.ok(filled < FILM_MEMORY_MAX, `${filled} bytes more`);
    // The far end of the film is found as well.
    await page.getByLabel("Place in the film").fill("1199900000");
    await still(page);
    assert.equal((await seen(page)).number, 180);
    watch.assertSealed(here.host.origin);
    watch.assertCalm();
  } finally {
    await its.stop();
    place.release();
  }
});

for (const [name, frames] of [
  ["even-240.mp4", Array.from({ length: 24 }, (_, at) => at)],
  ["uneven.mp4", Array.from({ length: 24 }, (_, at) => 7 * Math.floor(at / 4) + [0, 2, 3, 5][at % 4])],
]) {
  test(`stepping through ${name} never skips or repeats a frame`, async () => {
    const { page } = await open();
    await toFilm(page, here.host.url);
    await openFilm(page, name);
    const on = [(await seen(page)).number];
    for (let step = 1; step < frames.length; step += 1) {
      on.push((await tap(page, "+1 frame")).number);
    }
    assert.deepEqual(on, frames);
    const back = [on.at(-1)];
    for (let step = 1; step < frames.length; step += 1) {
      back.push((await tap(page, "−1 frame")).number);
    }
    assert.deepEqual(back, frames.toReversed());
    assert.equal((await tap(page, "−1 frame")).number, 0, "before the first frame");
    await page.getByText("no frame beyond this one").waitFor();
    // The keys do what the buttons do.
    await page.getByRole("group", { name: /^Film\. The arrow keys/ }).focus();
    await page.keyboard.press("Shift+ArrowRight");
    await still(page);
    assert.equal((await seen(page)).number, frames[5]);
    await page.keyboard.press("ArrowLeft");
    await still(page);
    assert.equal((await seen(page)).number, frames[4]);
  });
}

test("a step back into frames that were not seen yet never stands still", async () => {
  const { page } = await open();
  await toFilm(page, here.host.url);
  await openFilm(page, "slow-240-as-30.mp4");
  const { number } = await tap(page, "+1 second");
  for (let back = 1; back <= 3; back += 1) {
    assert.equal((await tap(page, "−1 frame")).number, number - back);
  }
  assert.equal((await tap(page, "−5 frames")).number, number - 8);
  assert.equal((await tap(page, "−5 frames")).number, number - 13);
  assert.equal((await tap(page, "+1 frame")).number, number - 12);
});

test("a neighbour in the strip can be taken instead, and a slow film needs its speed", async () => {
  const { page } = await open();
  await toFilm(page, here.host.url);
  await openFilm(page, "slow-240-as-30.mp4");
  await chooseBoth(page);
  await page.getByRole("radio", { name: "No, true speed" }).click();
  await page.getByText("Nobody stays in the air that long.").waitFor();
  assert.equal(await page.getByRole("button", { name: "Keep this trial" }).count(), 0);
  await page.getByRole("radio", { name: "Slow, 240 a second" }).click();
  const before = await result(page);
  const strips = page.getByRole("group", { name: "Frames around it" });
  assert.equal(await strips.count(), 2);
  const inked = await page.evaluate(() =>
    [...document.querySelectorAll(".strip canvas")].map((canvas) =>
      canvas.getContext("2d").getImageData(48, 60, 1, 1).data[3],
    ),
  );
  assert.deepEqual(inked, Array(10).fill(255), "pictures of the strips");
  await strips.last().getByRole("button").nth(3).click();
  await still(page);
  const after = await result(page);
  assert.ok(after.height > before.height, "one frame later is higher");
  await assertAccessible(page);
});

test("what is no film is refused in words", async () => {
  const { page, watch } = await open();
  await toFilm(page, here.host.url);
  const input = page.locator("#film-file");
  const hostile = Buffer.from("\0\0\0\x18ftypmp42\0\0\0\0<script>alert(1)</script>");
  await input.setInputFiles({ name: "x.mp4", mimeType: "video/mp4", buffer: hostile });
  await page.getByText(/cannot play this file/).waitFor();
  // What many phones make unless told otherwise.
  await input.setInputFiles(clip("hevc.mp4"));
  await page.getByText(/film in HEVC/).waitFor();
  await input.setInputFiles(clip("sound.wav"));
  await page.getByText(/has only sound, or a picture/).waitFor();
  await openFilm(page, "even-24.mp4");
  await chooseBoth(page);
  await page.getByRole("radio", { name: "No, true speed" }).click();
  await page.getByText("24 frames a second are too few").waitFor();
  assert.equal(await page.getByRole("button", { name: "Keep this trial" }).count(), 0);
  watch.assertSealed(here.host.origin);
});

test("without leave for the camera the page says what to do", async () => {
  const { page } = await open();
  await page.addInitScript(() => {
    navigator.mediaDevices.getUserMedia = async () => {
      throw new DOMException("no", globalThis.cameraFault ?? "NotAllowedError");
    };
  });
  await toFilm(page, here.host.url);
  await press(page, "Film in this page");
  await page.getByText(/camera is not allowed here/).waitFor();
  await page.evaluate(() => {
    globalThis.cameraFault = "NotFoundError";
  });
  await press(page, "Film in this page");
  await page.getByText(/No camera was found/).waitFor();
});

test("the camera of the page films, and its film is stepped through", async () => {
  const camera = await startBrowser({
    args: ["--use-fake-device-for-media-stream", "--use-fake-ui-for-media-stream"],
  });
  try {
    const { page, watch } = await camera.open(LOCALE);
    await toFilm(page, here.host.url);
    await press(page, "Film in this page");
    await press(page, "Start filming");
    await page.waitForFunction(() => document.querySelector("#film").currentTime > 1.5);
    await press(page, "Stop filming");
    await page.getByText(/^Frame at/).waitFor();
    await still(page);
    const first = await page.locator("#film-at").textContent();
    await tap(page, "+1 frame");
    assert.notEqual(await page.locator("#film-at").textContent(), first);
    await tap(page, "−1 frame");
    assert.equal(await page.locator("#film-at").textContent(), first);
    await press(page, "Film in this page");
    await press(page, "Start filming");
    await page.evaluate(() => {
      // What a browser does when a camera is pulled out.
      const [track] = document.querySelector("#film").srcObject.getTracks();
      track.dispatchEvent(new Event("ended"));
    });
    await page.getByText(/camera went away/).waitFor();
    watch.assertSealed(here.host.origin);
  } finally {
    await camera.stop();
  }
});

/** Two minutes at a tap a second. Design choice. */
const TAPS_MAX = 120;

test("from a phone's slow motion to a percentile range in under two minutes of taps", async (t) => {
  const { page } = await open();
  const begin = performance.now();
  const person = await atTrials(page, here.host.url, "Film");
  // Go to the page of the clock, and no to the question about stretching.
  person.taps += 2;
  await page.getByRole("link", { name: "Open the film page" }).click();
  person.taps += 1;
  const press = async (name) => {
    await person.press(new RegExp(`^${name.replace("+", "\\+")}$`));
    await still(page);
  };
  /** By seconds past the change, back by fives, on by ones. */
  const findChange = async (isThere) => {
    while (!isThere(await seen(page))) await press("+1 second");
    while (isThere(await seen(page))) await press("−5 frames");
    while (!isThere(await seen(page))) await press("+1 frame");
  };
  const before = person.taps;
  for (let trial = 0; trial < 3; trial += 1) {
    // A clip for each jump: the button, and the clip in the phone's own list.
    person.taps += 2;
    await openFilm(page, "slow-240-as-30.mp4");
    await findChange(({ isOff }) => isOff);
    await press("Feet are off in this frame");
    await findChange(({ isOff }) => !isOff);
    await press("A foot touches in this frame");
    await person.choose("Slow, 240 a second");
    await person.press("Keep this trial");
  }
  const each = (person.taps - before) / 3;
  await page.getByRole("link", { name: "Check the readings" }).click();
  await heading(page, "Check the readings");
  await person.press("Save result");
  await saved(page);
  await person.choose("Girls and women");
  await page.getByText(/in 100/).first().waitFor();
  // The link to the check.
  person.taps += 1;
  const seconds = Math.round((performance.now() - begin) / 1000);
  t.diagnostic(`${person.taps} taps, ${each} for each trial; this script took ${seconds} s`);
  assert.ok(person.taps <= TAPS_MAX, `${person.taps} taps`);
});

test("typed times become a test of their own, and two are enough after the wall", async () => {
  const { page, watch } = await open();
  await savedTest(page, here.host.url);
  await atTrials(page, here.host.url, "Contact mat");
  await keep(page, "12");
  await page.getByText(/in seconds or milliseconds/).waitFor();
  await keep(page, "0.512");
  await keep(page, "498 ms");
  await press(page, "Check the readings");
  await heading(page, "Check the readings");
  await press(page, "Save result");
  await saved(page);
  // 0.512 s is 32.13 cm, to half a centimetre.
  await page.getByText("Your best today: 32.0").waitFor();
  await page.getByText("Standing jump, Contact mat").first().waitFor();
  await page.getByText(/Take-off speed of the best jump: 2\.51 m\/s/).waitFor();
  // The survey is spoken of once its table is asked for.
  const survey = page.getByText(/does not say which device/);
  assert.equal(await survey.count(), 0);
  await page.getByRole("radio", { name: "Girls and women" }).click();
  await page.getByText(/in 100/).first().waitFor();
  await survey.waitFor();
  await assertAccessible(page);
  await page.getByRole("link", { name: "Wall and air, side by side" }).click();
  await page.getByText(/At the wall 42\.0.*in the air 31\.5/).waitFor();
  await assertAccessible(page);
  await page.goto(`${here.host.url}#/tests`);
  const captions = await page.locator("caption").allTextContents();
  // Two tests of one minute have no order.
  assert.deepEqual(captions.toSorted(), ["Standing jump", "Standing jump, Contact mat"]);
  const kept = await page.evaluate(() =>
    Object.values(localStorage).filter((text) => text.includes('"dev":"mat"')),
  );
  assert.equal(kept.length, 1);
  assert.deepEqual(JSON.parse(kept[0]).trials, [{ air: 512000 }, { air: 498000 }]);
  watch.assertCalm();
});
