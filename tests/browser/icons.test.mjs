// The icons that systems take as pictures: there, of the right size, and our own drawing.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { test } from "node:test";

import { dist } from "./kit.mjs";
import { stage } from "./steps.mjs";
import { ICONS } from "./icons.mjs";

const here = stage();

// Places of the 64-unit drawing whose colours its SVG source gives.
const PLACES = [
  { at: [9.5, 12.5], colour: [0xff, 0xd2, 0x3f], what: "the tape measure" },
  { at: [20, 30], colour: [0xfa, 0xe8, 0xdd], what: "the wall" },
  { at: [30, 17.5], colour: [0x1d, 0x2c, 0x86], what: "the upper mark" },
  { at: [56, 54], colour: [0x1d, 0x2c, 0x86], what: "the floor" },
];

test("every icon has its size and the colours of the drawing", async () => {
  const { page, context } = await here.open();
  await page.goto(here.host.url);
  for (const [name, side, drawing] of ICONS) {
    const seen = await page.evaluate(
      async ([src, places]) => {
        const picture = new Image();
        picture.src = src;
        await picture.decode();
        const canvas = document.createElement("canvas");
        [canvas.width, canvas.height] = [picture.naturalWidth, picture.naturalHeight];
        const brush = canvas.getContext("2d");
        brush.drawImage(picture, 0, 0);
        const scale = canvas.width / 64;
        const pixel = ([x, y]) => [...brush.getImageData(Math.floor(x * scale), Math.floor(y * scale), 1, 1).data];
        return { width: canvas.width, height: canvas.height, corner: pixel([0, 0]), at: places.map(pixel) };
      },
      [name, PLACES.map(({ at }) => at)],
    );
    assert.deepEqual([seen.width, seen.height], [side, side], name);
    for (const [n, { colour, what }] of PLACES.entries()) {
      assert.deepEqual(seen.at[n], [...colour, 255], `${name}: ${what}`);
    }
    // A system rounds the full square itself; the plain one brings its own round corner.
    assert.equal(seen.corner[3], drawing === "icon-mask.svg" ? 255 : 0, `${name}: corner`);
  }
  await context.close();
});

test("the manifest and the page name the icons", () => {
  const { icons } = JSON.parse(readFileSync(join(dist, "manifest.webmanifest"), "utf8"));
  const named = icons.map(({ src, sizes, purpose }) => `${src} ${sizes} ${purpose}`);
  for (const line of ["icon-192.png 192x192 any", "icon-512.png 512x512 any", "icon-mask-512.png 512x512 maskable"]) {
    assert.ok(named.includes(line), line);
  }
  const page = readFileSync(join(dist, "index.html"), "utf8");
  assert.match(page, /<link rel="apple-touch-icon" href="icon-touch-180.png">/);
});
