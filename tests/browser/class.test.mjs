// A lesson with invented numbers, played through in both ways: by the pupils' own phones, and at a
// station. The server is away for all of it.

import test from "node:test";
import assert from "node:assert/strict";
import { readFileSync } from "node:fs";

import {
  arrived,
  assertAccessible,
  choose,
  fill,
  follow,
  keptOffline,
  mounted,
  press,
  readCode,
  scratch,
  startBrowser,
  startProfile,
  until,
  VIEWPORTS,
} from "./kit.mjs";
import { LOCALE, heading, journalLines, keep, stage } from "./steps.mjs";

const here = stage();
const PUPILS = 30;

/** What number n reaches and jumps, in half centimetres: invented, and told from each other. */
const reachOf = (n) => 190 + (n % 7) * 5;
const marksOf = (n) => [0, 1, 2].map((k) => reachOf(n) + 22 + (n % 11) + k * 0.5);
const bestOf = (n) => (marksOf(n)[2] - reachOf(n)).toFixed(1);

/** Opens a context that writes down which requests were refused. */
async function openWatched(settings) {
  const opened = await here.open(settings);
  const failed = [];
  opened.context.on("requestfailed", (request) => failed.push(new URL(request.url()).pathname));
  return { ...opened, failed };
}

/** Fails on any trouble but one: the browser asks for the tab's picture again, in vain, at new hashes. */
function assertCalmWithoutServer({ watch, failed }) {
  assert.deepEqual(failed.filter((path) => path !== "/icon.svg"), []);
  const refused = "Failed to load resource: net::ERR_CONNECTION_REFUSED";
  assert.deepEqual(watch.troubles.filter((trouble) => trouble !== refused), []);
}

/** Takes the server away for the rest of a test, and brings it back whatever happens. */
async function withoutServer(work) {
  await here.host.pause();
  try {
    await work();
  } finally {
    await here.host.resume();
  }
}

async function prepare(page, label = "Class 8B", checks = true) {
  await page.goto(`${here.host.url}#/class`);
  await mounted(page);
  await follow(page, "Prepare a class");
  await fill(page, "What is the class called?", label);
  if (!checks) {
    await page.getByRole("checkbox", { name: "Ready check" }).uncheck();
    await page.getByRole("checkbox", { name: "Warm-up" }).uncheck();
  }
  await press(page, "Prepare a class");
  await heading(page, label);
}

/** The cells of the table of a class, by number. */
async function tableOf(page) {
  await page.locator(".class-table").waitFor();
  return page
    .locator(".class-table tbody tr")
    .evaluateAll((rows) => rows.map((row) => [...row.children].map((cell) => cell.textContent)));
}

function assertTable(rows) {
  assert.equal(rows.length, PUPILS);
  rows.forEach(([number, best, , trials, note], at) => {
    const n = at + 1;
    assert.deepEqual([number, best, trials, note], [String(n), bestOf(n), "3", ""]);
  });
}

/** A pupil's way from the link to the slip. */
async function testOf(page, link, n, checks = false) {
  await page.goto(link);
  await page.locator("#number").fill(String(n));
  await press(page, "Begin");
  if (checks) {
    for (const question of ["unwell", "legs"]) {
      await page.locator(`#${question}`).getByRole("radio", { name: "No" }).click();
    }
    await page.getByRole("checkbox", { name: "All of this is true" }).click();
    await press(page, "Go to warm-up");
    await press(page, "I am warm");
  }
  await heading(page, "Standing reach");
  await keep(page, String(reachOf(n)));
  await press(page, "Go on to the jumps");
  await page.getByRole("button", { name: "No", exact: true }).click();
  for (const mark of marksOf(n)) await keep(page, String(mark));
  await press(page, "Check the readings");
  await press(page, "Make my slip");
  const code = await page.locator("#slip-code").textContent();
  return { code, link: page.url() };
}

test("thirty phones, one link, no server: the table is complete", async (t) => {
  const teacher = await openWatched({ permissions: ["clipboard-write", "clipboard-read"] });
  const { page, watch, context } = teacher;
  await page.goto(here.host.url);
  await mounted(page);
  await keptOffline(page);
  await prepare(page, "Class 8B", false);
  await follow(page, "Show the link");
  const link = (await page.locator(".link-text").textContent()).trim();
  const code = link.split("#/c/")[1];
  assert.match(code, /^C[2-9A-Y]+$/);
  assert.ok(link.length <= 200, `${link.length} characters`);
  assert.equal(await readCode(page.locator(".qr--hall")), link);
  await page.setViewportSize(VIEWPORTS.wide);
  assert.equal(await readCode(page.locator(".qr--hall")), link);
  await page.setViewportSize(VIEWPORTS.phone);
  await press(page, "Copy the link");
  await page.getByText("The link is copied.").waitFor();
  assert.equal(await page.evaluate(() => navigator.clipboard.readText()), link);

  // Each has the link open before the server goes away, and with it the pages of a test. A worker
  // would have all parts anyway.
  const pupils = [];
  for (let n = 1; n <= PUPILS; n += 1) {
    const pupil = await openWatched({ serviceWorkers: "block" });
    await pupil.page.goto(link);
    await pupil.page.waitForFunction(() =>
      performance.getEntriesByType("resource").some(({ name }) => name.includes("/part-tests-")),
    );
    pupils.push(pupil);
  }
  const log = here.host.requests();
  assert.ok(log.length > PUPILS, "the server saw no request");
  const secret = log.filter((line) => line.includes(code) || line.includes("#"));
  assert.deepEqual(secret, [], "the fragment reached the server");

  await withoutServer(async () => {
    const started = Date.now();
    const slips = [];
    for (const [at, pupil] of pupils.entries()) {
      const slip = await testOf(pupil.page, link, at + 1);
      slips.push(slip);
      if (at === 0) {
        assert.equal(await readCode(pupil.page.locator(".qr--slip")), slip.link);
        await pupil.page.getByText(`Your best jump: ${bestOf(1)}`).waitFor();
        const kept = await pupil.page.evaluate(() => Object.keys(localStorage).filter((key) => key.includes("/r/")));
        assert.deepEqual(kept, [], "something was kept on the pupil's phone");
      }
      pupil.watch.assertSealed(here.host.origin);
      assertCalmWithoutServer(pupil);
      await pupil.context.close();
    }
    const chat = slips
      .map(({ code, link }, at) => `[10:${at + 10}] Pupil: mine is ${at % 3 === 0 ? link : code}, thanks`)
      .join("\n");

    await follow(page, "Back to the class");
    await follow(page, "Collect slips");
    await fill(page, "Slips", chat);
    await page.getByText("30 new results.").waitFor();
    await press(page, "Take these over");
    await page.getByText("30 results taken over.").waitFor();
    // The same chat again is known, and a slip with a wrong sign is told.
    const wrong = slips[0].code.replace(/.$/, (sign) => (sign === "2" ? "3" : "2"));
    await fill(page, "Slips", `${chat}\n${wrong}`);
    await page.getByText("0 new results.").waitFor();
    assert.equal(await page.getByText("Here already").count(), PUPILS);
    await page.getByText("One character is wrong, or two are swapped.").waitFor();
    await page.goto(`${here.host.url}#/class`);
    await follow(page, "Class 8B");
    assertTable(await tableOf(page));
    await page.getByText("30 results count.").waitFor();
    t.diagnostic(`${slips[0].code.replaceAll("-", "").length} signs a slip, ${code.length} a class, ${link.length} a link`);
    t.diagnostic(`30 pupils one after the other in ${Math.round((Date.now() - started) / 1000)} s`);

    const [file] = await Promise.all([page.waitForEvent("download"), press(page, "CSV, by pupil")]);
    const rows = readFileSync(await file.path(), "utf8").trim().split("\r\n");
    assert.equal(rows.length, PUPILS + 1);
    assert.match(rows[1], /Not for grading/);
    watch.assertSealed(here.host.origin);
    assertCalmWithoutServer(teacher);
    await context.close();
  });
  assert.deepEqual(here.host.requests().filter((line) => line.includes(code)), []);
});

test("with the checks on, a pupil is led through them, and a reload goes on", async () => {
  const { page, watch } = await here.open();
  await prepare(page);
  await follow(page, "Show the link");
  const link = (await page.locator(".link-text").textContent()).trim();
  await page.goto(link);
  await press(page, "Begin");
  await page.getByText("Type a number from 1 to 30.").waitFor();
  await page.locator("#number").fill("12");
  await press(page, "Begin");
  await heading(page, "Ready check");
  await page.getByText("Number 12").waitFor();
  await page.reload();
  await mounted(page);
  await page.getByText("Number 12").waitFor();
  const { code } = await testOf(page, link, 12, true);
  await assertAccessible(page);
  await page.getByText("Take it into Class 8B").click();
  await page.getByText("1 new result.").waitFor();
  await press(page, "Take these over");
  await follow(page, "Back to the class");
  const rows = await tableOf(page);
  assert.equal(rows[11][1], bestOf(12));
  assert.ok(code.startsWith("J"));
  watch.assertCalm();
});

/**
 * Stands in for the browser's own reader of codes, which Chromium on Linux does not have: it answers with
 * the codes that the test puts before it, so that it proves what the page does with a code and not that a
 * real reader finds one in a picture. The camera is Chromium's invented one. Every stream is written
 * down, and so is what the reader was asked to look at.
 */
function readerOfCodes() {
  const state = { before: [], looks: 0, formats: [], streams: [] };
  globalThis.reader = state;
  globalThis.BarcodeDetector = class {
    constructor({ formats }) {
      state.formats = formats;
    }
    async detect(picture) {
      if (picture instanceof HTMLVideoElement && picture.videoWidth > 0) state.looks += 1;
      return state.before.map((rawValue) => ({ rawValue }));
    }
  };
  const devices = navigator.mediaDevices;
  const ask = devices.getUserMedia.bind(devices);
  devices.getUserMedia = async (wanted) => {
    if (state.fault) throw new DOMException("no", state.fault);
    const stream = await ask(wanted);
    state.streams.push(stream);
    return stream;
  };
}

test("slip after slip before the camera goes into the preview, and the camera is let go", async () => {
  const camera = await startBrowser({
    args: ["--use-fake-device-for-media-stream", "--use-fake-ui-for-media-stream"],
  });
  try {
    const { page, watch, context } = await camera.open(LOCALE);
    await context.addInitScript(readerOfCodes);
    const linkOf = async (label) => {
      await prepare(page, label, false);
      await follow(page, "Show the link");
      return (await page.locator(".link-text").textContent()).trim();
    };
    const slipOf = async (classLink, n) => {
      const { code } = await testOf(page, classLink, n);
      return `${here.host.url}#/slip/${code.replaceAll("-", "")}`;
    };
    const other = await slipOf(await linkOf("Other class"), 5);
    const link = await linkOf("Camera class");
    const [first, second] = [await slipOf(link, 1), await slipOf(link, 2)];
    await page.goto(`${here.host.url}#/class`);
    await follow(page, "Camera class");
    await follow(page, "Collect slips");

    const show = (...codes) => page.evaluate((codes) => (globalThis.reader.before = codes), codes);
    const said = (text) => page.locator("p[role=status]", { hasText: text }).waitFor();
    const live = () =>
      page.evaluate(
        () => globalThis.reader.streams.flatMap((one) => one.getTracks()).filter((track) => track.readyState === "live").length,
      );
    await press(page, "Read codes with the camera");
    await page.waitForFunction(() => globalThis.reader.looks > 1);
    assert.deepEqual(await page.evaluate(() => globalThis.reader.formats), ["qr_code"]);
    assert.equal(await live(), 1);
    await show(first);
    await said(/Number 1\b.*New/);
    await show("https://school.example/menu");
    await said("This code is not a slip.");
    await show(second);
    await said(/Number 2\b.*New/);
    await show(other);
    await said(/Number 5\b.*Of another class/);
    await show(first);
    await said("Here already");
    await page.getByText("2 new results.").waitFor();
    await assertAccessible(page);
    await press(page, "Take these over");
    await page.getByText("2 results taken over.").waitFor();
    // What is stored is known, too; a look later nothing was added.
    await show(second);
    await said(/Number 2\b.*Here already/);
    await page.getByText("0 new results.").waitFor();
    // Nothing is left to take over, and nothing offers to.
    await page.getByRole("link", { name: "Back to the class" }).waitFor();
    assert.equal(await page.getByRole("button", { name: "Take these over" }).count(), 0);

    await press(page, "Stop the camera");
    await page.getByRole("button", { name: "Read codes with the camera" }).waitFor();
    assert.equal(await live(), 0);
    await show();
    await press(page, "Read codes with the camera");
    await page.getByRole("button", { name: "Stop the camera" }).waitFor();
    assert.equal(await live(), 1);
    await follow(page, "Back to the class");
    assert.equal(await live(), 0);
    const rows = await tableOf(page);
    assert.deepEqual(rows.slice(0, 2).map((row) => row[1]), [bestOf(1), bestOf(2)]);
    assert.ok(!rows[4].includes(bestOf(5)), "a slip of another class was taken");

    await follow(page, "Collect slips");
    for (const [fault, words] of [
      ["NotAllowedError", "The camera is not allowed here."],
      ["NotFoundError", "No camera was found."],
    ]) {
      await page.evaluate((fault) => (globalThis.reader.fault = fault), fault);
      await press(page, "Read codes with the camera");
      await page.getByText(words).waitFor();
    }
    await page.evaluate(() => delete globalThis.reader.fault);
    await press(page, "Read codes with the camera");
    await page.getByRole("button", { name: "Stop the camera" }).waitFor();
    await page.evaluate(() => globalThis.reader.streams.at(-1).getTracks()[0].stop());
    await page.getByText("The camera went away.").waitFor();
    watch.assertCalm();
    watch.assertSealed(here.host.origin);
  } finally {
    await camera.stop();
  }
});

test("without a reader of codes there is no camera and no photo, only words", async () => {
  const { page } = await here.open();
  await prepare(page, "Plain class");
  await follow(page, "Collect slips");
  await page.getByLabel("Slips").waitFor();
  assert.equal(await page.evaluate(() => "BarcodeDetector" in globalThis), false);
  assert.equal(await page.getByRole("button", { name: "Read codes with the camera" }).count(), 0);
  assert.equal(await page.locator("video, input[type=file]").count(), 0);
});

test("a station with giant keys takes a class of thirty, without a server", async (t) => {
  const teacher = await openWatched({});
  const { page, watch, context } = teacher;
  await page.goto(here.host.url);
  await mounted(page);
  await keptOffline(page);
  await prepare(page, "Station class");
  await withoutServer(async () => {
    await follow(page, "Open the station");
    const started = Date.now();
    let taps = 0;
    const tap = async (name) => {
      taps += 1;
      await page.getByRole("button", { name, exact: true }).click();
    };
    const rounds = ["Reach 1", "Trial 1", "Trial 2", "Trial 3"];
    let readings = 0;
    for (const [round, name] of rounds.entries()) {
      for (let n = 1; n <= PUPILS; n += 1) {
        await page.locator(".station__number", { hasText: new RegExp(`^Number ${n}$`) }).waitFor();
        await page.locator(".station__who", { hasText: name }).waitFor();
        const value = round === 0 ? reachOf(n) : marksOf(n)[round - 1];
        for (const digit of String(Math.floor(value))) await tap(digit);
        if (value % 1 > 0) await tap(".5");
        await tap("Keep, next");
        readings += 1;
        if (readings === 35) {
          // A reload in the middle of a lesson loses no reading and finds the place again.
          await page.reload();
          await mounted(page);
        }
      }
    }
    await page.getByText("Everybody is done.").waitFor();
    const each = taps / readings;
    assert.ok(each <= 6, `${each} taps per reading`);
    t.diagnostic(`${taps} taps for ${readings} readings: ${each.toFixed(2)} each`);
    t.diagnostic(`scripted entry of the class in ${Math.round((Date.now() - started) / 1000)} s`);
    await follow(page, "Back to the class");
    assertTable(await tableOf(page));
    watch.assertSealed(here.host.origin);
    assertCalmWithoutServer(teacher);
    await context.close();
  });
});

test("at the station: a question, later, another role, not all trials, taking back", async () => {
  const { page, watch } = await here.open();
  await prepare(page, "Small class");
  await follow(page, "Open the station");
  const number = (n) => page.locator(".station__number", { hasText: new RegExp(`^Number ${n}$`) }).waitFor();
  const type = async (digits) => {
    for (const digit of digits) await page.getByRole("button", { name: digit, exact: true }).click();
    await press(page, "Keep, next");
  };
  await number(1);
  await page.getByRole("button", { name: "Later", exact: true }).click();
  await number(2);
  await press(page, "Other role");
  await number(3);
  await type("88");
  await press(page, "It is right");
  await number(4);
  await press(page, "Take back: Number 3, Reach 1");
  await number(3);
  await type("200");
  await number(4);
  await page.getByRole("button", { name: "Not all trials" }).click();
  await number(5);
  await page.getByLabel("Call a number").selectOption("1");
  await number(1);
  await type("201");
  await number(5);
  // With real keys: one way into the field, then digits and Enter from number to number.
  await page.locator("#station-entry").focus();
  await page.keyboard.type("210");
  await page.keyboard.press("Enter");
  await number(6);
  await page.waitForFunction(() => document.activeElement.id === "station-entry");
  await page.keyboard.type("211");
  await page.keyboard.press("Enter");
  await number(7);
  await follow(page, "Back");
  const rows = await tableOf(page);
  assert.deepEqual(rows.slice(0, 3).map((row) => row[4]), ["not all trials", "other role", "not all trials"]);
  watch.assertCalm();
});

test("a station goes on after a reload, and a paper form of an earlier day keeps its day", async () => {
  const { page, watch } = await here.open();
  await prepare(page, "Paper class");
  await follow(page, "Open the station");
  const number = (n) => page.locator(".station__number", { hasText: new RegExp(`^Number ${n}$`) }).waitFor();
  const type = async (digits) => {
    for (const digit of digits) await page.getByRole("button", { name: digit, exact: true }).click();
    await press(page, "Keep, next");
  };
  await number(1);
  await page.getByRole("button", { name: "Later", exact: true }).click();
  await page.getByRole("button", { name: "Not all trials" }).click();
  await press(page, "Other role");
  await choose(page, "Pupil by pupil");
  await number(4);
  await page.reload();
  await mounted(page);
  await number(4);
  assert.ok(await page.getByRole("radio", { name: "Pupil by pupil" }).isChecked());

  await fill(page, "Day", "2999-01-01");
  await press(page, "Use this day");
  await page.getByText("Type a day like").waitFor();
  await fill(page, "Day", "2026-03-02");
  await press(page, "Use this day");
  await page.getByText("The readings are kept for 2 March 2026").waitFor();
  await number(1);
  await type("200");
  await page.locator(".station__who", { hasText: "Trial 1" }).waitFor();
  await page.reload();
  await mounted(page);
  await page.getByText("The readings are kept for 2 March 2026").waitFor();
  await type("235");
  await follow(page, "Back");
  await page.getByLabel("Day").selectOption("2026-03-02");
  assert.deepEqual((await tableOf(page))[0].slice(0, 2), ["1", "35.0"]);
  watch.assertCalm();
});

test("a set-up changes while there is no result, and becomes a new class afterwards", async () => {
  const { page, watch } = await here.open();
  await prepare(page, "First name");
  await page.getByText("How the class is tested").click();
  await follow(page, "Change the set-up");
  await heading(page, "How the class is tested");
  await fill(page, "What is the class called?", "Second name");
  assert.equal(await page.getByRole("radio", { name: "Running jump" }).count(), 0);
  await press(page, "Keep the set-up");
  await heading(page, "Second name");
  await follow(page, "Show the link");
  const link = (await page.locator(".link-text").textContent()).trim();
  assert.match(link, /#\/c\/C/);
  await page.goto(link);
  await page.locator("h1", { hasText: "Second name" }).waitFor();
  await page.goto(`${here.host.url}#/class`);
  await follow(page, "Second name");
  await follow(page, "Open the station");
  for (const digit of "200") await page.getByRole("button", { name: digit, exact: true }).click();
  await press(page, "Keep, next");
  await follow(page, "Back");
  await page.getByText("How the class is tested").click();
  await follow(page, "Change the set-up");
  await page.getByText("There are results already.").waitFor();
  await fill(page, "What is the class called?", "Third name");
  await press(page, "Make a new class");
  await heading(page, "Third name");
  await page.goto(`${here.host.url}#/class`);
  await page.getByRole("link", { name: "Second name" }).waitFor();
  assert.equal(await page.getByRole("link", { name: "Third name" }).count(), 1);
  watch.assertCalm();
});

test("hostile links are refused in words, and a script in a label is only text", async () => {
  const { page, watch } = await here.open();
  await page.goto(`${here.host.url}#/c/C2345`);
  await mounted(page);
  await page.getByText("This link is cut off, or a character in it is wrong.").waitFor();
  await page.goto(`${here.host.url}#/c/${"C".repeat(5000)}`);
  await page.getByText("This link is too long to be from a class.").waitFor();
  await page.goto(`${here.host.url}#/c/`);
  await page.getByText("There is no set-up in this link.").waitFor();
  await page.goto(`${here.host.url}#/slip/J2345`);
  await page.getByText("One character is wrong, or two are swapped.").waitFor();
  const label = "<img src=x onerror=alert(1)>";
  await prepare(page, label);
  await follow(page, "Show the link");
  const link = (await page.locator(".link-text").textContent()).trim();
  await page.goto(link);
  await page.getByText(`This link says it is from ${label}.`).waitFor();
  assert.equal(await page.locator("img").count(), 0);
  watch.assertCalm();
  watch.assertSealed(here.host.origin);
});

test("a class thrown away is gone after the browser was killed at once", async () => {
  const place = scratch();
  let profile = await startProfile(place.folder);
  let page = profile.page;
  await prepare(page, "Gone class");
  await press(page, "Throw this class away");
  await press(page, "Throw away for good");
  await heading(page, "A class");
  // The journal is on the disk in a moment; the browser's own storage only seconds later.
  const isGone = (lines) => lines.length > 0 && !JSON.stringify(lines).includes("Gone class");
  await until(page, `(${journalLines})().then(${isGone})`);
  await profile.kill();
  profile = await startProfile(place.folder);
  page = profile.page;
  await page.goto(`${here.host.url}#/class`);
  await mounted(page);
  await page.getByText("No class yet.").waitFor();
  assert.equal(await page.getByText("Gone class").count(), 0);
  await profile.stop();
  place.release();
});

test("the pages of a class are accessible and fit a narrow screen, in light and dark", async () => {
  for (const colorScheme of ["light", "dark"]) {
    const { page, context } = await here.open({ colorScheme, viewport: VIEWPORTS.small });
    await prepare(page);
    const id = page.url().split("#/class/")[1];
    const slip = "J27RK";
    const routes = ["", "/new", "/lesson", `/${id}`, `/${id}/show`, `/${id}/wall`, `/${id}/station`, `/${id}/collect`, `/${id}/sheet`, `/${id}/setup`];
    const addresses = routes.map((route) => `#/class${route}`).concat([`#/slip/${slip}`, "#/c/C2"]);
    await follow(page, "Show the link");
    addresses.push(`#${(await page.locator(".link-text").textContent()).trim().split("#")[1]}`);
    for (const address of addresses) {
      await page.goto(`${here.host.url}${address}`);
      await arrived(page);
      await assertAccessible(page);
      const wide = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
      assert.ok(wide <= 0, `${address} is ${wide} px too wide`);
    }
    await context.close();
  }
});
