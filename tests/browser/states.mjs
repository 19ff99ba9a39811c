// Every route and state of the page that a person can come to, with invented data, as walks.
//
// A walk goes through the page as a person does and calls `visit(name)` wherever something is to be
// seen. Pictures, the accessibility check and the width check all go along the same walks, so a
// page that is on no walk is noticed: `routesOf` reads the routes from the program's own list.

import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { arrived, fill, follow, mounted, press } from "./kit.mjs";
import { firstOpen, heading, keep, measureAll, passReady, saved, taps, withFamily } from "./steps.mjs";

const ROUTES = new URL("../../src/share/route.rs", import.meta.url);

/** The names of all routes that need nothing but their name, from the program's own list. */
export function routesOf(source = readFileSync(ROUTES, "utf8")) {
  const list = /const PLAIN[^=]*=\s*&?\[([\s\S]*?)\n\];/.exec(source);
  return [...list[1].matchAll(/\(Route::\w+, "([^"]*)"\)/g)].map(([, name]) => name);
}

/** The first visit: nothing is there yet. */
async function firstVisit(page, url, visit) {
  await page.goto(url);
  await mounted(page);
  await visit("start");
  for (const route of ["tests", "data"]) {
    await page.goto(`${url}#/${route}`);
    await arrived(page);
    await visit(`${route}-empty`);
  }
  await page.goto(`${url}#/no-such-page`);
  await arrived(page);
  await visit("lost");
}

/** A whole test from floor heights, with a foul, and every page that it fills. */
async function floorHeights(page, url, visit) {
  const person = await firstOpen(page, url);
  await visit("who");
  await person.press("Go to the ready check");
  await heading(page, "Ready check");
  await visit("ready");
  for (const question of ["unwell", "fits", "legs"]) await person.no(question);
  await person.tick("All of this is true");
  await visit("ready-go");
  await person.press("Go to warm-up");
  await heading(page, "Warm-up");
  await visit("warm-up");
  await person.press("I am warm");
  await heading(page, "Your test");
  await visit("test");
  await person.press("Go to the reach");
  await page.locator("#entry").waitFor();
  await visit("reach");
  await page.locator("#entry").fill("2240");
  await page.getByText(/cannot be right/).waitFor();
  await visit("reach-slip");
  for (const reach of ["224", "225", "224.5"]) await keep(page, reach);
  await page.getByText("They agree.").waitFor();
  await visit("reach-agreed");
  await press(page, "Go on to the jumps");
  await page.getByRole("button", { name: "No", exact: true }).waitFor();
  await visit("jumps-stretch-question");
  await page.getByRole("button", { name: "No", exact: true }).click();
  await visit("jumps");
  for (const mark of ["265.5", "266.5", "268"]) await keep(page, mark);
  await visit("jumps-three");
  await press(page, "Finish");
  await heading(page, "Check the readings");
  await visit("check");
  await press(page, "Save result");
  await saved(page);
  await visit("result-tables-not-asked");
  await page.getByRole("radio", { name: "Boys and men" }).click();
  await page.getByText("Indonesia").first().waitFor();
  await visit("result");
  for (const route of routesOf()) {
    // Steps of a test lead home while none is under way; the walk has shown them.
    if (["who", "warm-up", "test", "reach", "jumps", "check", "ready", "clock-film"].includes(route)) continue;
    await page.goto(`${url}#/${route}`);
    await arrived(page);
    await visit(route === "" ? "home" : route);
  }
}

/** In inches, as the distance between the marks. */
async function distances(page, url, visit) {
  const person = await firstOpen(page, url);
  await person.choose("Inches");
  await passReady(person);
  await person.choose("Between the marks");
  await person.choose("⅛ in");
  await visit("test-distance");
  await person.press("Go to the reach mark");
  await heading(page, "Standing reach");
  await visit("reach-distance");
  await person.press("The reach mark is on the wall");
  await page.getByRole("button", { name: "No", exact: true }).click();
  await page.locator("#entry").fill("16");
  await visit("jumps-distance");
}

/** A jump in a film. */
async function filmed(page, url, visit) {
  await page.goto(url);
  await mounted(page);
  await page.goto(`${url}#/clock`);
  await heading(page, "Time in the air");
  await press(page, "Start a test");
  const person = taps(page);
  await person.choose("15 to 17");
  await person.press("Go to the ready check");
  for (const question of ["unwell", "fits", "legs"]) await person.no(question);
  await person.tick("All of this is true");
  await person.press("Go to warm-up");
  await person.press("I am warm");
  await page.getByRole("button", { name: "No", exact: true }).click();
  await visit("jumps-filmed");
  await page.getByRole("link", { name: "Open the film page" }).click();
  await heading(page, "Film");
  await visit("clock-film");
  const film = fileURLToPath(new URL("clips/even-120.mp4", import.meta.url));
  await page.locator("#film-file").setInputFiles(film);
  await page.getByText(/^Frame at/).waitFor();
  await visit("clock-film-open");
}

/** Not today, and better wait. */
async function notNow(page, url, visit) {
  const person = await firstOpen(page, url);
  await person.press("Go to the ready check");
  await person.yes("unwell");
  await page.getByRole("heading", { name: "No test today" }).waitFor();
  await visit("ready-not-today");
  await person.no("unwell");
  await person.no("fits");
  await person.yes("legs");
  await person.choose("Training");
  await person.choose("Yesterday");
  await person.choose("Evening");
  await person.tick("All of this is true");
  await page.getByRole("heading", { name: /Better wait until/ }).waitFor();
  await visit("ready-wait");
}

/** A season of two children, and the pages of one saved test. */
async function season(page, url, visit) {
  await withFamily(page, url, () => visit("data-restore-preview"));
  await visit("home-season");
  await press(page, "Ada");
  await page.waitForURL(/#\/person\//);
  await arrived(page);
  await visit("person");
  await page.goto(`${url}#/`);
  await arrived(page);
  await follow(page, "Season");
  await heading(page, "Season");
  await visit("season-girl");
  for (const name of ["The next test", "Details"]) await press(page, name);
  await visit("season-girl-details");
  await follow(page, "Picture of the season");
  await heading(page, "Picture of the season");
  for (const box of await page.getByRole("checkbox").all()) await box.check();
  await visit("season-picture-everything");
  await page.goto(`${url}#/tests`);
  await heading(page, "All tests");
  await visit("tests-many");
  await page.locator("main td a, main th a").first().click();
  await heading(page, "Result");
  await visit("result-of-a-child");
  await follow(page, "Change this test");
  await heading(page, "Change a test");
  await visit("change");
  await page.locator("#form-trial-0").fill("12");
  await press(page, "Save the change");
  await visit("change-problem");
  await follow(page, "Leave it as it was");
  await heading(page, "Result");
  await page.locator('main a[href^="#/picture/"]').click();
  await heading(page, "Picture");
  await visit("picture");
  await follow(page, "Back");
  await heading(page, "Result");
  await follow(page, "Share a card");
  await heading(page, "Share a card");
  await visit("hand-on");
  for (const box of await page.getByRole("checkbox").all()) await box.check();
  await visit("hand-on-everything");
  const link = (await page.locator(".link-text").textContent()).trim();
  await page.goto(link);
  await heading(page, "A jump result");
  await visit("card");
  await press(page, "Keep it on this device");
  await visit("card-whose");
  await page.goto(`${link}2`);
  await page.getByText("a character in it is wrong").waitFor();
  await visit("card-refused");
}

/** What only grown-ups are shown. */
async function grownUp(page, url, visit) {
  await page.goto(url);
  await mounted(page);
  await press(page, "Start a test");
  await page.getByRole("radio", { name: "18 or over" }).click();
  await measureAll(page, taps(page));
  await press(page, "Save result");
  await saved(page);
  await visit("result-adult");
  await page.goto(`${url}#/touch`);
  await arrived(page);
  await visit("touch-adult");
  await page.goto(`${url}#/power`);
  await page.getByLabel("Show me the estimate").check();
  await page.getByLabel(/^Body weight, in/).fill("65");
  await visit("power-shown");
  await page.goto(`${url}#/athletes`);
  await page.getByLabel("Show me these tables").check();
  await visit("athletes-shown");
}

/** A class before its first readings. */
async function teacher(page, url, visit) {
  await page.goto(`${url}#/class`);
  await mounted(page);
  await visit("class");
  await follow(page, "Prepare a class");
  await page.getByLabel("What is the class called?").fill("Class 8B");
  await visit("class-new");
  await press(page, "Prepare a class");
  await heading(page, "Class 8B");
  await visit("class-hub");
  const hub = await page.evaluate(() => location.href);
  for (const part of ["show", "wall", "collect", "sheet", "station"]) {
    await page.goto(`${hub}/${part}`);
    await arrived(page);
    await visit(`class-${part}`);
  }
  await page.goto(`${url}#/class/lesson`);
  await arrived(page);
  await visit("class-lesson");
}

/** A class of twelve on two days, with tables: everything that its pages can show. */
async function filledClass(page, url, visit) {
  const id = "BwcHBwcHAAAAAAAAAAAAAA";
  const rule = { v: 1, r: 1, e: 1781458200000 };
  const setup = { u: "cm/2", reaches: 1, trials: 3, rest: 30, numbers: 12, age: "12-14", cmp: "female" };
  const records = [{ ...rule, k: "c", i: id, name: "Class 7A", ...setup, pupils: [{ no: 3, cmp: "male" }] }];
  for (const [at, d] of [20260302, 20260601].entries()) {
    for (let no = 1; no <= 12; no += 1) {
      const i = `${String.fromCharCode(65 + at)}${String.fromCharCode(64 + no)}${"A".repeat(20)}`;
      const best = 2180 + ((no * 37) % 130) + at * 15;
      const trials = no === 4 ? [best] : [best - 15, best, { foul: "step" }, best - 5];
      const tired = no === 6 ? { tired: true } : {};
      records.push({ ...rule, k: "n", i, c: id, d, no, u: "cm/2", reach: [1900], trials, ...tired });
    }
  }
  const file = JSON.stringify({ kind: "two-marks backup", version: 1, records });
  await page.goto(`${url}#/data`);
  await mounted(page);
  await page.locator("#restore-file").setInputFiles({
    name: "class.json",
    mimeType: "application/json",
    buffer: Buffer.from(file),
  });
  await press(page, "Restore this");
  await page.getByText("Restored.").waitFor();
  const hub = `${url}#/class/${id}`;
  await page.goto(hub);
  await heading(page, "Class 7A");
  await page.locator(".class-table").waitFor();
  await visit("class-filled");
  await page.getByLabel("Bands behind the bricks").selectOption({ index: 1 });
  await page.locator("svg .fill-recess").first().waitFor({ state: "attached" });
  await page.getByText("Published bands", { exact: true }).click();
  await page.getByLabel("One number with other tables").selectOption("3");
  await visit("class-filled-bands");
  for (const part of ["wall", "sheet", "setup", "station"]) {
    await page.goto(`${hub}/${part}`);
    await arrived(page);
    await visit(`class-filled-${part}`);
  }
}

/** The invented family. */
async function example(page, url, visit) {
  await page.goto(`${url}#/example`);
  await mounted(page);
  await press(page, "Show me an example");
  await page.getByRole("button", { name: "Heron", exact: true }).waitFor();
  await visit("home-example");
  await follow(page, "Season");
  await heading(page, "Season");
  await visit("season-example");
}

/** All walks. */
export const WALKS = {
  firstVisit,
  floorHeights,
  distances,
  filmed,
  notNow,
  season,
  grownUp,
  teacher,
  filledClass,
  example,
};

/** Whether a visited name shows a route. */
export const shows = (route) => (name) =>
  name === (route || "home") || name.startsWith(`${route || "start"}-`);
