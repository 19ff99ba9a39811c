// What axe cannot see, along every walk: text spacing, forced colours, small motion, a phone on its
// side, sizes of targets, and where the focus goes.

import assert from "node:assert/strict";
import { test } from "node:test";

import { stage } from "./steps.mjs";
import { WALKS } from "./states.mjs";

const here = stage();

/** Goes along every walk and gathers what `look` finds wrong in each state. */
async function gather(settings, look, prepare) {
  const wrong = [];
  let states = 0;
  for (const walk of Object.values(WALKS)) {
    const { page, context } = await here.open(settings);
    await prepare?.(page, context);
    await walk(page, here.host.url, async (name) => {
      states += 1;
      for (const line of await look(page, name)) wrong.push(`${name}: ${line}`);
    });
    await context.close();
  }
  assert.ok(states > 30, `${states} states were seen`);
  return [...new Set(wrong)];
}

/** In the page: what is wider than the window, or cut off by its own box. */
const lost = (page) =>
  page.evaluate(() => {
    const found = [];
    if (document.documentElement.scrollWidth > innerWidth) found.push("wider than the window");
    for (const one of document.querySelectorAll("button, a, h1, h2, label, p, legend, td, th")) {
      const { overflowX, overflowY } = getComputedStyle(one);
      const cut = (overflowX !== "visible" && one.scrollWidth > one.clientWidth + 1)
        || (overflowY !== "visible" && one.scrollHeight > one.clientHeight + 1);
      if (cut && one.clientWidth > 1 && one.checkVisibility()) found.push(`cut off: ${one.textContent.trim().slice(0, 40)}`);
    }
    return found;
  });

// The four distances of WCAG 2.2, criterion 1.4.12. The content policy lets no foreign style in, so
// the sheet is made by the browser's own means for users' styles.
const SPACING = `* { line-height: 1.5 !important; letter-spacing: 0.12em !important; word-spacing: 0.16em !important; }
p { margin-block-end: 2em !important; }`;

test("wider text spacing loses nothing", async () => {
  const look = async (page) => {
    await page.evaluate((style) => {
      const sheet = new CSSStyleSheet();
      sheet.replaceSync(style);
      document.adoptedStyleSheets = [sheet];
    }, SPACING);
    return lost(page);
  };
  assert.deepEqual(await gather({ viewport: { width: 320, height: 640 } }, look), []);
});

test("a phone on its side loses nothing", async () => {
  assert.deepEqual(await gather({ viewport: { width: 844, height: 390 } }, lost), []);
});

test("with forced colours, every control keeps an edge or underlined words", async () => {
  const look = (page) =>
    page.evaluate(() => {
      const edged = (one) => {
        const style = getComputedStyle(one);
        return ["Top", "Right", "Bottom", "Left"].some(
          (side) => style[`border${side}Style`] !== "none" && parseFloat(style[`border${side}Width`]) > 0,
        );
      };
      // One of several stands in a frame of all of them.
      const bare = (one) => {
        const { outlineStyle, textDecorationLine } = getComputedStyle(one);
        const marked = outlineStyle !== "none" || textDecorationLine.includes("underline");
        return !marked && !edged(one) && !(one.getAttribute("role") === "radio" && edged(one.parentElement));
      };
      const controls = [...document.querySelectorAll("#app button, #app a.btn, #app a.act, #app a.chip")];
      return controls.filter((one) => one.checkVisibility() && !one.matches(".skip") && bare(one))
        .map((one) => `no edge: ${one.className} ${one.textContent.trim().slice(0, 30)}`);
    });
  assert.deepEqual(await gather({ forcedColors: "active" }, look), []);
});

test("with reduced motion, nothing moves by itself", async () => {
  const look = (page) =>
    page.evaluate(() =>
      document.getAnimations().filter((one) => one.playState === "running"
        && Number(one.effect?.getComputedTiming().activeDuration) > 1).map((one) => `moves: ${one.effect?.target?.className}`));
  assert.deepEqual(await gather({ reducedMotion: "reduce" }, look), []);
});

// 24 px is criterion 2.5.8's line; a link within a sentence is excepted by it. 48 px is our own rule
// for what is pressed with chalk on the fingers: buttons and what looks like one.
test("targets are large enough", async () => {
  const look = (page) =>
    page.evaluate(() => {
      const found = [];
      for (const one of document.querySelectorAll("button, select, summary, a.btn, a.act, a.chip, label:has(> input)")) {
        if (!one.checkVisibility()) continue;
        const { width, height } = one.getBoundingClientRect();
        // A hidden skip link and the like are a pixel wide until they have the focus.
        if (width <= 1 || height <= 1) continue;
        if (Math.round(height) < 48 || Math.round(width) < 24) {
          found.push(`${Math.round(width)} x ${Math.round(height)}: ${one.className} ${one.textContent.trim().slice(0, 30)}`);
        }
      }
      return found;
    });
  assert.deepEqual(await gather({}, look), []);
});
