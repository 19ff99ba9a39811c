// What leaves the page on paper or as a picture: true size in the printed file, no controls on
// paper, and nothing about a person on a picture unless it was ticked.

import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { test } from "node:test";

import {
  arrived,
  assertAccessible,
  choose,
  fill,
  follow,
  mounted,
  press,
  scratch,
  startBrowser,
} from "./kit.mjs";
import {
  LOCALE,
  firstOpen,
  heading,
  keep,
  passReady,
  savedTest,
  stage,
  wholeTest,
} from "./steps.mjs";

const here = stage();
const { open } = here;

const MM_PER_POINT = 25.4 / 72;
const PAPERS = [
  { format: "A4", width: 210, height: 297 },
  { format: "Letter", width: 215.9, height: 279.4 },
];

/** Prints the page as its own styles say; gives the file's place. */
async function printed(page, folder, format, more = {}) {
  const path = join(folder, `${format}.pdf`);
  writeFileSync(path, await page.pdf({ format, printBackground: true, ...more }));
  return path;
}

/** The size of every sheet of a PDF in mm. */
function sheetSizes(pdf) {
  const told = execFileSync("pdfinfo", ["-f", "1", "-l", "99", pdf], { encoding: "utf8" });
  return [...told.matchAll(/Page +\d+ size: +([\d.]+) x ([\d.]+) pts/g)].map(([, w, h]) => ({
    width: Number(w) * MM_PER_POINT,
    height: Number(h) * MM_PER_POINT,
  }));
}

/** The words of a PDF. */
const wordsOf = (pdf) => execFileSync("pdftotext", ["-layout", pdf, "-"], { encoding: "utf8" });

/** A sheet as pixels: true where there is ink, at `dpi`, from a plain PBM file. */
function pixels(pdf, sheet, dpi, folder) {
  const name = join(folder, `sheet-${sheet}`);
  const words = ["-r", String(dpi), "-gray", "-f", String(sheet), "-singlefile", pdf, name];
  execFileSync("pdftoppm", words);
  const file = readFileSync(`${name}.pgm`);
  const [, head, width, height] = /^(P5\s+(\d+)\s+(\d+)\s+255\s)/.exec(file.toString("latin1", 0, 64));
  const [wide, tall] = [Number(width), Number(height)];
  return {
    wide,
    tall,
    dark: (x, y) => file[head.length + y * wide + x] < 128,
    mm: (count) => (count * 25.4) / dpi,
  };
}

/** Runs of ink as [first, last] pairs. */
function runs(length, dark) {
  const found = [];
  for (let at = 0; at < length; at += 1) {
    if (!dark(at)) continue;
    const last = found.at(-1);
    if (last && last[1] === at - 1) last[1] = at;
    else found.push([at, at]);
  }
  return found;
}

/** Where the lines of the first piece lie, in mm from the top, read from the pixels near its edge. */
function linesOfFirstPiece(image) {
  // A column that every line crosses: 1.5 mm from the left edge of the sheet's drawing.
  const x = Math.round((10 + 1.5) / image.mm(1));
  const middle = ([a, b]) => image.mm((a + b + 1) / 2);
  return runs(image.tall, (y) => image.dark(x, y)).filter(([a, b]) => b - a < 20).map(middle);
}

/** The check bar of a sheet, in mm: from the first to the last ink of its lowest level line. */
function checkBar(image) {
  const left = Math.round(8 / image.mm(1));
  // The line under the blocks is the lowest that is more than 90 mm long.
  for (let y = image.tall - 1; y > 0; y -= 1) {
    const long = runs(image.wide, (x) => x >= left && image.dark(x, y));
    const line = long.find(([a, b]) => image.mm(b - a) > 90);
    if (line) return image.mm(line[1] - line[0] + 1);
  }
  return 0;
}

for (const { format, width, height } of PAPERS) {
  test(`the wall scale has its true size on ${format}, in centimetres and in inches`, async (t) => {
    const { folder, release } = scratch();
    const { page, watch, context } = await open();
    try {
      await page.goto(`${here.host.url}#/strip`);
      await mounted(page);
      await choose(page, "0.1 cm");
      const pdf = await printed(page, folder, format);
      const sizes = sheetSizes(pdf);
      assert.equal(sizes.length, 2, "sheets");
      for (const size of sizes) {
        assert.ok(Math.abs(size.width - width) < 0.5 && Math.abs(size.height - height) < 0.5);
      }
      const words = wordsOf(pdf);
      assert.match(words, /Print at 100 %/);
      assert.match(words, /If this bar is\s+not 10 cm/);
      assert.match(words, /Piece 1 of 5/);
      assert.match(words, /Piece 2 goes over this/);
      assert.doesNotMatch(words, /Where does it begin/, "the choices are on the paper");
      for (const sheet of [1, 2]) {
        const image = pixels(pdf, sheet, 600, folder);
        const bar = checkBar(image);
        // The end lines of the bar are drawn half outside it.
        assert.ok(Math.abs(bar - 100) < 0.5, `${format} sheet ${sheet}: the bar has ${bar} mm`);
        const lines = linesOfFirstPiece(image);
        // One line for each millimetre of 20 cm, both ends included.
        const scale = lines.slice(-201);
        let worst = 100;
        assert.ok(lines.length >= 201, `${lines.length} lines`);
        for (let from = 0; from + 100 <= 200; from += 10) {
          const ten = scale[from + 100] - scale[from];
          assert.ok(Math.abs(ten - 100) < 0.5, `${format}: 10 cm are ${ten} mm`);
          if (Math.abs(ten - 100) > Math.abs(worst - 100)) worst = ten;
        }
        t.diagnostic(`sheet ${sheet}: bar ${bar.toFixed(2)} mm, worst 10 cm ${worst.toFixed(2)} mm`);
      }
      // Printed smaller, the bar tells: the measuring can fail.
      const shrunk = await printed(page, folder, format, { scale: 0.95 });
      const short = checkBar(pixels(shrunk, 1, 600, folder));
      assert.ok(Math.abs(short - 95) < 0.5, `at 95 % the bar has ${short} mm`);
      await choose(page, "Inches");
      await choose(page, "⅛ in");
      await choose(page, "Over the floor");
      const inches = await printed(page, folder, format);
      assert.equal(sheetSizes(inches).length, 3, "sheets in inches");
      const image = pixels(inches, 1, 600, folder);
      const bar = checkBar(image);
      assert.ok(Math.abs(bar - 101.6) < 0.5, `4 in are ${bar} mm`);
      const scale = linesOfFirstPiece(image).slice(-65);
      const whole = scale[64] - scale[0];
      t.diagnostic(`4 in are ${bar.toFixed(2)} mm, 8 in are ${whole.toFixed(2)} mm`);
      assert.ok(Math.abs(whole - 203.2) < 0.5, `8 in are ${whole} mm`);
      watch.assertCalm();
      watch.assertSealed(here.host.origin);
    } finally {
      await context.close();
      release();
    }
  });
}

test("the class form prints on its own, with a heading on every sheet", async () => {
  const { folder, release } = scratch();
  const { page, context } = await open({ colorScheme: "dark" });
  try {
    await page.goto(`${here.host.url}#/paper`);
    await mounted(page);
    await choose(page, "40");
    for (const { format } of PAPERS) {
      const pdf = await printed(page, folder, format);
      const words = wordsOf(pdf);
      assert.match(words, /Not for grading: bodies grow at different times\./);
      assert.match(words, /Middle/);
      assert.doesNotMatch(words, /How many numbers|^Home$|Make a wall scale/m);
      assert.equal(sheetSizes(pdf).length, 2, "sheets");
      assert.equal(words.match(/Jump marks/g).length, 2, "headings");
      const numbers = [...words.matchAll(/^\s*(\d+)\s*$/gm)].map(([, number]) => Number(number));
      assert.deepEqual(numbers, Array.from({ length: 40 }, (_, at) => at + 1));
    }
  } finally {
    await context.close();
    release();
  }
});

test("the blank form for one person fits on two sheets", async () => {
  const { folder, release } = scratch();
  const { page, context } = await open();
  try {
    await page.goto(`${here.host.url}#/paper`);
    await mounted(page);
    await follow(page, "Open the blank form");
    // A document of its own, which needs no program: there is no part of one to wait for.
    await page.getByRole("heading", { level: 1, name: "Jump test on paper" }).waitFor();
    for (const { format } of PAPERS) {
      const pdf = await printed(page, folder, format);
      assert.equal(sheetSizes(pdf).length, 2, `sheets of ${format}`);
      assert.match(wordsOf(pdf), /Standing reach, from the floor/);
    }
  } finally {
    await context.close();
    release();
  }
});

test("the sheet of a class of thirty fits on one sheet", async () => {
  const { folder, release } = scratch();
  const { page, context } = await open();
  try {
    await page.goto(`${here.host.url}#/class`);
    await mounted(page);
    await follow(page, "Prepare a class");
    await fill(page, "What is the class called?", "Class 8B");
    await press(page, "Prepare a class");
    await follow(page, "Sheet to print");
    await heading(page, "Class 8B");
    for (const { format } of PAPERS) {
      const pdf = await printed(page, folder, format);
      assert.equal(sheetSizes(pdf).length, 1, `sheets of ${format}`);
      assert.match(wordsOf(pdf), /\b30\b/);
      assert.match(wordsOf(pdf), /Not for grading/);
    }
  } finally {
    await context.close();
    release();
  }
});

test("a result prints light, with its readings and without controls, whatever the look", async () => {
  const { folder, release } = scratch();
  const { page, context } = await open();
  try {
    await page.addInitScript(() => localStorage.setItem("two-marks/theme", '"dark"'));
    await savedTest(page, here.host.url);
    await page.getByRole("radio", { name: "Boys and men" }).click();
    await page.locator(".bands li").first().waitFor();
    const letter = await printed(page, folder, "Letter");
    assert.equal(sheetSizes(letter).length, 1, "sheets of Letter");
    const pdf = await printed(page, folder, "A4");
    assert.equal(sheetSizes(pdf).length, 1, "sheets of A4");
    const words = wordsOf(pdf);
    for (const told of [/Your best today: 43\.5/, /Your usual jump: 42\.0/, /224\.5/]) {
      assert.match(words, told);
    }
    assert.doesNotMatch(words, /Delete this test|Undo saving|^Home$/m);
    const image = pixels(pdf, 1, 50, folder);
    let dark = 0;
    for (let y = 0; y < image.tall; y += 1) {
      for (let x = 0; x < image.wide; x += 1) dark += image.dark(x, y) ? 1 : 0;
    }
    const share = dark / (image.wide * image.tall);
    assert.ok(share > 0.005 && share < 0.12, `${(100 * share).toFixed(1)} % of the sheet is dark`);
  } finally {
    await context.close();
    release();
  }
});

/** In the page: reads a picture's size and some of its pixels, as rgb. */
const sampled = async ([bytes, spots]) => {
  const blob = new Blob([new Uint8Array(bytes)], { type: "image/png" });
  const image = await createImageBitmap(blob);
  const canvas = new OffscreenCanvas(image.width, image.height);
  const pen = canvas.getContext("2d");
  pen.drawImage(image, 0, 0);
  const rgb = ([x, y]) => [...pen.getImageData(x, y, 1, 1).data.slice(0, 3)];
  return { width: image.width, height: image.height, colours: spots.map(rgb) };
};

const WALL = [0xfa, 0xe8, 0xdd];
const MEASURE = [0xff, 0xd2, 0x3f];
const MARK = [0x1d, 0x2c, 0x86];
const INK = [0x14, 0x16, 0x3a];

async function downloaded(page, name) {
  const coming = page.waitForEvent("download");
  await press(page, name);
  return readFileSync(await (await coming).path());
}

test("a picture holds the height, and nothing about a person until it is ticked", async () => {
  const { page, watch, context } = await open();
  const person = await firstOpen(page, here.host.url);
  await page.getByLabel("Nickname").fill("Wren");
  await passReady(person);
  await person.press("Go to the reach");
  for (const reach of ["224", "225", "224.5"]) await keep(page, reach);
  await press(page, "Go on to the jumps");
  await page.getByRole("button", { name: "No", exact: true }).click();
  for (const mark of ["265.5", "266.5", "268"]) await keep(page, mark);
  await press(page, "Finish");
  await press(page, "Save result");
  await follow(page, "Picture");
  await heading(page, "Picture");
  assert.equal(await page.getByRole("checkbox", { checked: true }).count(), 0, "ticked already");

  const plain = (await downloaded(page, "Save as SVG")).toString();
  assert.match(plain, /width="1080" height="1350"/);
  assert.match(plain, />43\.5</);
  const year = String(new Date().getFullYear());
  for (const told of ["Wren", year, "224.5", "268", "usual"]) {
    assert.ok(!plain.includes(told), `${told} is on the picture`);
  }

  for (const name of ["Nickname", "Date", "Usual jump and ±"]) await person.tick(name);
  await person.tick(/Heights from the floor/);
  const told = (await downloaded(page, "Save as SVG")).toString();
  for (const shown of ["Wren", year, "224.5", "268.0", "usual 42.0"]) {
    assert.ok(told.includes(shown), `${shown} is missing`);
  }

  // Spots in pixels of the file: measure, bare wall, dado, and the band above with the name.
  const spots = [[30, 300], [1000, 600], [800, 1290], [540, 10]];
  const png = await downloaded(page, "Save as PNG");
  await page.getByText("The picture is saved.").waitFor();
  const seen = await page.evaluate(sampled, [[...png], spots]);
  assert.deepEqual([seen.width, seen.height], [1080, 1350]);
  assert.deepEqual(seen.colours, [MEASURE, WALL, MARK, INK]);
  watch.assertCalm();
  watch.assertSealed(here.host.origin);
  await context.close();
});

test("the share sheet gets the picture as a PNG file", async () => {
  const { page, context } = await open();
  // Headless Chromium has no share sheet: this one writes down what it is given.
  await page.addInitScript(() => {
    navigator.canShare = (data) => data.files?.length === 1 && data.files[0].type === "image/png";
    navigator.share = async (data) => {
      const [file] = data.files;
      globalThis.shared = { name: file.name, size: file.size, keys: Object.keys(data) };
    };
  });
  await savedTest(page, here.host.url);
  await follow(page, "Picture");
  await press(page, "Share the picture");
  await page.getByText("The picture is handed on.").waitFor();
  const { name, size, keys } = await page.evaluate(() => globalThis.shared);
  assert.deepEqual([name, keys], ["two-marks.png", ["files"]]);
  assert.ok(size > 5_000, `${size} bytes`);
  await context.close();
});

/** In the page: the moving drawing's animations with their state. */
const moving = () => document.getAnimations().map((a) => [a.animationName, a.playState]);

test("the drawing of a jump moves, stops when told, and stands still where motion is not wanted", async () => {
  const { page, watch, context } = await open();
  await page.goto(`${here.host.url}#/technique`);
  await mounted(page);
  await heading(page, "How to jump");
  assert.deepEqual(await page.evaluate(moving), [["motion", "running"]]);
  await press(page, "Pause");
  await page.getByRole("button", { name: "Play" }).waitFor();
  assert.deepEqual(await page.evaluate(moving), [["motion", "paused"]]);
  // A window shows exactly one picture at every step.
  const offsets = await page.evaluate(() => {
    const [film] = document.getAnimations();
    const whole = film.effect.getComputedTiming().duration;
    const strip = document.querySelector(".motion__strip");
    const window = strip.parentElement.clientWidth;
    return Array.from({ length: 38 }, (_, step) => {
      film.currentTime = (whole * (step + 0.5)) / 38;
      const left = strip.parentElement.getBoundingClientRect().left + strip.parentElement.clientLeft;
      return (left - strip.getBoundingClientRect().left) / window;
    });
  });
  offsets.forEach((offset, step) => assert.ok(Math.abs(offset - step) < 0.01, `${step}: ${offset}`));
  await page.emulateMedia({ reducedMotion: "reduce" });
  assert.deepEqual(await page.evaluate(moving), []);
  assert.equal(await page.getByRole("button", { name: /Play|Pause/ }).count(), 0);
  assert.equal(await page.locator(".moments .drawing").count(), 10);
  watch.assertCalm();
  await context.close();
});

test("the left hand has its own drawings", async () => {
  const { page, context } = await open();
  await page.goto(`${here.host.url}#/technique`);
  await mounted(page);
  const first = () => page.locator(".moments .drawing").nth(1).innerHTML();
  const right = await first();
  await choose(page, "Left");
  assert.notEqual(await first(), right);
  await choose(page, "Right");
  assert.equal(await first(), right);
  await context.close();
});

test("these pages can be used by everybody and fit a narrow screen", async () => {
  for (const look of ["light", "dark", "sun"]) {
    const { page, context } = await open({ viewport: { width: 320, height: 640 } });
    await page.addInitScript((name) => {
      localStorage.setItem("two-marks/theme", JSON.stringify(name));
    }, look);
    await wholeTest(page, here.host.url);
    await press(page, "Save result");
    await follow(page, "Picture");
    await heading(page, "Picture");
    const picture = new URL(page.url()).hash;
    for (const route of [picture, "#/paper", "#/strip", "#/technique"]) {
      await page.goto(here.host.url + route);
      await arrived(page);
      await assertAccessible(page);
      const width = await page.evaluate(() => document.documentElement.scrollWidth);
      assert.ok(width <= 320, `${route} is ${width} px wide`);
    }
    await context.close();
  }
});

test("text at 200 % runs over nowhere on these pages", async () => {
  const large = await startBrowser({ args: ["--blink-settings=defaultFontSize=32"] });
  try {
    const { page } = await large.open({ ...LOCALE, viewport: { width: 320, height: 640 } });
    await savedTest(page, here.host.url);
    await follow(page, "Picture");
    await heading(page, "Picture");
    const picture = new URL(page.url()).hash;
    for (const route of [picture, "#/paper", "#/strip", "#/technique"]) {
      await page.goto(here.host.url + route);
      await arrived(page);
      const width = await page.evaluate(() => document.documentElement.scrollWidth);
      assert.ok(width <= 320, `${route} is ${width} px wide`);
    }
  } finally {
    await large.stop();
  }
});
