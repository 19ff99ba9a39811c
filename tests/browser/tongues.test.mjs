// The page in other languages: nothing that a language needs is said in English only, nothing is too
// long for a small screen, a mirrored page is mirrored, and a language costs nobody else a byte.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";

import { arrived, keptOffline, mounted } from "./kit.mjs";
import { savedTest, stage } from "./steps.mjs";
import { routesOf, shows, WALKS } from "./states.mjs";
import { catalogue, look, madeUp, madeUpPack, packs, saidIn } from "./tongues.mjs";
import { saysOf, sides, speak, title, translator } from "./tongues.mjs";

const here = stage();
const files = packs();
const tags = [...files.keys()];
// The made-up language comes in place of this one, so its dates are written as this one has them.
const [first] = tags;
const SMALL = { width: 320, height: 640 };
const PHONE = { width: 390, height: 844 };

const choice = (tag) => localStorage.setItem("two-marks/language", JSON.stringify(tag));
/** Whether an address is that of a language's words: of the program, or of the shell around it. */
const isWords = (url) => /\/(words-[^/]*\.txt|shell-[^/]*\.json)$/.test(url);
const shellOf = (tag) => files.get(tag).replace("words-", "shell-").replace(".txt", ".json");

/** A page without a worker, in a language chosen on an earlier visit. */
async function reader(tag, settings = {}) {
  const opened = await here.open({ serviceWorkers: "block", ...settings });
  if (tag) await opened.page.addInitScript(choice, tag);
  return opened;
}

/** The same in the made-up language. */
async function stranger(pack, settings) {
  const opened = await reader(first, settings);
  await opened.page.route(`**/${files.get(first)}`, (route) => route.fulfill({ body: pack }));
  return opened;
}

const drawn = (page) =>
  page.evaluate(() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done))));

/** What is wrong with what is seen, at both widths. */
async function faults(page, name, isSaid = () => true) {
  const found = [];
  for (const size of [SMALL, PHONE]) {
    await page.setViewportSize(size);
    await drawn(page);
    const { wrong, texts } = await page.evaluate(look);
    found.push(...wrong.map((what) => `${name} at ${size.width}: ${what}`));
    found.push(...texts.filter((words) => !isSaid(words)).map((words) => `${name}: in English: ${words}`));
  }
  return [...new Set(found)];
}

const root = (page, name) => page.evaluate((its) => document.documentElement.getAttribute(its), name);

test("every walk in a lengthened language fits both phones, and no word of English is left", async () => {
  const translate = translator(madeUp());
  const isSaid = saidIn(first);
  const [visited, found] = [[], []];
  for (const [called, walk] of Object.entries(WALKS)) {
    const { page, context, watch } = await stranger(madeUpPack());
    const visit = async (name) => {
      visited.push(name);
      found.push(...(await faults(page, name, isSaid)));
    };
    try {
      await walk(speak(page, translate), here.host.url, visit);
    } catch (error) {
      found.push(`${called} broke off after ${visited.at(-1)}: ${error.message}`);
    }
    watch.assertSealed(here.host.origin);
    watch.assertCalm();
    await context.close();
  }
  assert.deepEqual(found, []);
  assert.deepEqual(routesOf().filter((route) => !visited.some(shows(route))), [], "routes on no walk");
});

test("English, too wide and clipped things are found where they are put in", async () => {
  const { page, context } = await stranger(madeUpPack());
  await page.goto(here.host.url);
  await mounted(page);
  assert.deepEqual(await faults(page, "home", saidIn(first)), []);
  await page.evaluate(() => {
    const put = (name, text) => Object.assign(document.createElement(name), { textContent: text });
    const [wide, clipped] = [put("p", "W".repeat(99)), put("button", "[Bcd]")];
    wide.style.cssText = "overflow-wrap: normal; width: max-content";
    clipped.style.cssText = "width: 1rem; padding: 0; white-space: nowrap";
    document.querySelector("main").append(wide, clipped, put("p", "[Móóréé left]"));
  });
  const found = (await faults(page, "home", saidIn(first))).join("\n");
  for (const part of [/px on 320: <p/, /clipped: <button/, /in English: \[Móóréé left\]/]) assert.match(found, part);
  await context.close();
});

test("a mirrored language turns every page round, and drawings keep their sides", async () => {
  const translate = translator(madeUp());
  const [visited, found] = [[], []];
  const at = {};
  for (const walk of Object.values(WALKS)) {
    const { page, context, watch } = await stranger(madeUpPack({ rtl: true }));
    await walk(speak(page, translate), here.host.url, async (name) => {
      visited.push(name);
      found.push(...(await faults(page, name)));
      at[name] = await page.evaluate(sides);
    });
    watch.assertSealed(here.host.origin);
    watch.assertCalm();
    await context.close();
  }
  assert.deepEqual(found, []);
  assert.deepEqual(routesOf().filter((route) => !visited.some(shows(route))), []);
  for (const [name, seen] of Object.entries(at)) assert.equal(seen.direction, "rtl", name);
  const bullets = Object.values(at).flatMap(({ bullet }) => bullet ?? []);
  const { back, arrow, firstStep, drawing } = at["reach-agreed"];
  assert.ok(back < 8, `back is ${back} px from the right edge`);
  assert.equal(arrow, "matrix(-1, 0, 0, 1, 0, 0)");
  assert.equal(firstStep, 0, "the first step is not at the right edge");
  assert.equal(drawing, "ltr");
  assert.deepEqual([bullets.length > 5, ...new Set(bullets)], [true, "0px"], "bullets at the right");
});

test("the direction is there before the program, and goes with its language", async () => {
  const { page, context } = await stranger(madeUpPack({ rtl: true }));
  await page.goto(here.host.url);
  await mounted(page);
  assert.equal(await root(page, "dir"), "rtl");
  let isHeld = true;
  await page.route("**/*.wasm", (route) => (isHeld ? route.abort() : route.continue()));
  await page.reload();
  assert.deepEqual([await root(page, "lang"), await root(page, "dir")], [first, "rtl"]);
  isHeld = false;
  await page.reload();
  await mounted(page);
  await page.locator(".tongues > summary").click();
  await page.locator(".tongue[lang=de]").click();
  await page.waitForFunction(() => document.documentElement.lang === "de");
  assert.equal(await root(page, "dir"), null);
  assert.equal(await page.evaluate(() => localStorage.getItem("two-marks/direction")), null);
  await context.close();
});

for (const tag of tags) {
  test(`a whole test and every page in ${tag} fits 320 px under a heading of that language`, async () => {
    const said = saysOf(tag);
    const { page, context, watch } = await reader(tag, { viewport: SMALL });
    const found = [];
    const visited = [];
    const visit = async (name) => {
      visited.push(name);
      await drawn(page);
      const { wrong } = await page.evaluate(look);
      found.push(...wrong.map((what) => `${name}: ${what}`));
      const head = await title(page);
      if (!said.has(head)) found.push(`${name}: no heading of this language: ${head}`);
      if ((await root(page, "lang")) !== tag) found.push(`${name}: the page says another language`);
    };
    await WALKS.floorHeights(speak(page, translator(catalogue(tag))), here.host.url, visit);
    for (const name of ["clock-film", "class", "class/new", "class/lesson"]) {
      await page.goto(`${here.host.url}#/${name}`);
      await arrived(page);
      await visit(name);
    }
    assert.deepEqual(found, []);
    assert.deepEqual(routesOf().filter((route) => route && !visited.some(shows(route))), []);
    watch.assertSealed(here.host.origin);
    watch.assertCalm();
    await context.close();
  });
}

/** The words on a picture: its drawn texts, its title and what it tells who cannot see it. */
const onPicture = (svg) =>
  [...svg.matchAll(/<(text|title|desc)\b[^>]*>(.*?)<\/\1>/gs)].map(([, , inner]) =>
    inner.replace(/<[^>]*>/g, " ").trim(),
  );

test("the picture of a result says every word in the reader's language, as a file and as drawn", async () => {
  const isSaid = saidIn(first);
  const { page, context, watch } = await stranger(madeUpPack());
  const person = speak(page, translator(madeUp()));
  await savedTest(person, here.host.url);
  await person.getByRole("link", { name: "Picture", exact: true }).click();
  const save = person.getByRole("button", { name: "Save as SVG", exact: true });
  await save.waitFor();
  const saved = async () => {
    const coming = page.waitForEvent("download");
    await save.click();
    return readFileSync(await (await coming).path(), "utf8");
  };
  const plain = onPicture(await saved());
  for (const box of await page.getByRole("checkbox").all()) await box.check();
  const full = onPicture(await saved());
  assert.ok(full.length > plain.length && plain.length >= 3, `${plain.length} and ${full.length} texts`);
  assert.deepEqual([...plain, ...full].filter((text) => !isSaid(text)), [], "not in this language");
  assert.ok(full.filter((text) => text.includes("[")).length >= 5, "the language's own words are on it");
  // What is shown, and what becomes the PNG, is this same file.
  const shown = await page.locator("img.picture").evaluate((image) => decodeURIComponent(image.src));
  assert.deepEqual(onPicture(shown), full);
  watch.assertCalm();
  await context.close();
});

test("a language is chosen by its own name and kept, and the list says who has checked it", async () => {
  const { page, context, watch } = await reader();
  await page.goto(here.host.url);
  await mounted(page);
  const notes = new Set();
  for (const tag of [...tags, "en"]) {
    await page.locator(".tongues > summary").click();
    const button = page.locator(`.tongue[lang=${tag}]`);
    const note = button.locator(".small");
    if (tag !== "en") notes.add(await note.innerText());
    else assert.equal(await note.count(), 0, "English was written by its authors");
    await button.click();
    await page.waitForFunction((its) => document.documentElement.lang === its, tag);
    await page.reload();
    await mounted(page);
    assert.equal(await root(page, "lang"), tag);
    const start = catalogue(tag).find(({ id }) => id === "start_test").forms[0][1];
    await page.getByRole("button", { name: start, exact: true }).waitFor();
  }
  assert.equal(notes.size, tags.length, "each language has its own note");
  watch.assertCalm();
  await context.close();
});

test("a link opens in the reader's own language, and in English where there are no words", async () => {
  const readers = { "es-MX": "es", "fr-CA": "fr", "de-AT": "de", "pt-BR": "pt", "id-ID": "id", "sv-SE": "en" };
  const titles = new Set();
  for (const [locale, tag] of Object.entries(readers)) {
    const { page, context, watch } = await reader(undefined, { locale });
    await page.goto(`${here.host.url}#/about`);
    await mounted(page);
    await arrived(page);
    assert.equal(await root(page, "lang"), tag, locale);
    const own = catalogue(tag).find(({ id }) => id === "about_title").forms[0][1];
    assert.equal(await title(page), own);
    titles.add(own);
    watch.assertCalm();
    await context.close();
  }
  assert.equal(titles.size, tags.length + 1);
});

test("words that do not arrive, or not whole, are said, and English stays", async () => {
  const pack = madeUpPack();
  const older = pack.replace(/ [0-9a-f]{16}\n/, " 0123456789abcdef\n");
  const broken = [undefined, { status: 404 }, { body: pack.slice(0, 5_000) }, { body: older }];
  for (const answer of broken) {
    const { page, context } = await reader("de");
    await page.route(`**/${files.get("de")}`, (route) => (answer ? route.fulfill(answer) : route.abort()));
    await page.goto(here.host.url);
    await page.getByText("The words in Deutsch did not arrive.").waitFor();
    await page.getByRole("button", { name: "Start a test" }).waitFor();
    assert.equal(await root(page, "lang"), "en");
    await context.close();
  }
  // Chosen in the page: what is shown stays, and the choice is tried again.
  const { page, context } = await reader();
  let isGone = true;
  await page.route(`**/${files.get("fr")}`, (route) => (isGone ? route.abort() : route.continue()));
  await page.goto(here.host.url);
  await mounted(page);
  await page.locator(".tongues > summary").click();
  await page.locator(".tongue[lang=fr]").click();
  await page.getByText("The words in Français did not arrive.").waitFor();
  assert.equal(await root(page, "lang"), "en");
  isGone = false;
  await page.reload();
  await mounted(page);
  assert.equal(await root(page, "lang"), "fr");
  await context.close();
});

test("words that are held up are waited for, then English comes, and stays when they arrive late", async () => {
  const { page, context, watch } = await reader("de");
  let letGo;
  const held = new Promise((go) => (letGo = go));
  await page.route(`**/${files.get("de")}`, async (route) => {
    await held;
    await route.continue();
  });
  const asked = page.waitForRequest((request) => request.url().endsWith(files.get("de")));
  await page.goto(here.host.url, { waitUntil: "commit" });
  await asked;
  await page.getByText("The words in Deutsch did not arrive.").waitFor({ timeout: 60_000 });
  await page.getByRole("button", { name: "Start a test" }).waitFor();
  assert.equal(await root(page, "lang"), "en");
  const late = page.waitForResponse((response) => response.url().endsWith(files.get("de")));
  letGo();
  await (await late).finished();
  await drawn(page);
  assert.equal(await root(page, "lang"), "en");
  await page.getByRole("button", { name: "Start a test" }).waitFor();
  watch.assertCalm();
  await context.close();
});

test("a language adds nothing to the first load of another, and its own words come once", async () => {
  const loads = {};
  for (const tag of ["en", "de"]) {
    const { page, context, watch } = await reader(tag);
    const before = here.host.requests().length;
    await page.goto(here.host.url);
    await mounted(page);
    await page.locator("#title").waitFor();
    const asked = new Set(watch.requests.filter(isWords));
    loads[tag] = {
      asked: [...asked].map((url) => new URL(url).pathname.slice(1)).sort(),
      served: here.host.requests().slice(before).filter((line) => isWords(line.split("?")[0])),
      others: watch.requests.filter((url) => !isWords(url)).map((url) => new URL(url).pathname).sort(),
    };
    watch.assertCalm();
    await context.close();
  }
  assert.deepEqual(loads.en.asked, []);
  assert.deepEqual(loads.en.served, []);
  assert.deepEqual(loads.de.asked, [shellOf("de"), files.get("de")]);
  assert.equal(loads.de.served.length, 2, `${loads.de.served}`);
  assert.ok(loads.en.others.some((name) => name.endsWith(".wasm")), "the log saw no program");
  assert.deepEqual(loads.de.others, loads.en.others);
});

test("after one visit in English every language can be chosen with the server gone", async () => {
  const { page, context } = await here.open();
  await page.goto(here.host.url);
  await keptOffline(page);
  await here.host.pause();
  try {
    for (const tag of tags) {
      await page.locator(".tongues > summary").click();
      await page.locator(`.tongue[lang=${tag}]`).click();
      await page.waitForFunction((its) => document.documentElement.lang === its, tag);
      await page.reload();
      await mounted(page);
      assert.equal(await root(page, "lang"), tag);
    }
  } finally {
    await here.host.resume();
    await context.close();
  }
});
