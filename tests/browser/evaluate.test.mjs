// What the pages show is what `evaluate` says: a backup of invented people is restored through the
// page, every result is opened, the page's own backup is evaluated without a browser, and every
// number on the screen is looked up in that output. Rounding is done here anew.

import assert from "node:assert/strict";
import { spawnSync } from "node:child_process";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { test } from "node:test";

import { mounted, press, root } from "./kit.mjs";
import { heading, stage } from "./steps.mjs";

const here = stage();
const SAMPLE = join(root, "tests", "it", "evaluate", "backup.json");

/** Runs the example on a backup file, as a person without a browser does. */
function evaluate(file) {
  const words = ["run", "--quiet", "--offline", "--profile", "test", "--example", "evaluate"];
  const options = { cwd: root, input: readFileSync(file), maxBuffer: 2 ** 27 };
  const { status, stdout, stderr } = spawnSync("cargo", words, options);
  assert.equal(status, 0, String(stderr));
  return JSON.parse(stdout);
}

const EIGHTHS = ["", "⅛", "¼", "⅜", "½", "⅝", "¾", "⅞"];
const UM_PER_CM = 10_000;
/** Lengths are whole micrometres: an eighth of an inch is 3175 of them, a millimetre 1000. */
const COUNT_UM = { cm: 1_000, in: 3_175 };
const SHOWN_COUNTS = { cm: 5, in: 2 };

const unitOf = (test) => (test.division.startsWith("in") ? "in" : "cm");

/** A number of millimetres or eighths as the page writes it. */
function counts(whole, unit) {
  if (unit === "cm") return (whole / 10).toFixed(1);
  const [inches, eighths] = [Math.trunc(whole / 8), EIGHTHS[whole % 8]];
  if (eighths === "") return String(inches);
  return inches === 0 ? eighths : `${inches}\u00a0${eighths}`;
}

/** Halves go up: `step` counts of the unit are the smallest thing shown. */
function rounded(cm, unit, step) {
  const um = COUNT_UM[unit] * step;
  return Math.floor((Math.round(cm * UM_PER_CM) + um / 2) / um) * step;
}

const height = (cm, unit) => counts(rounded(cm, unit, SHOWN_COUNTS[unit]), unit);
const exact = (cm, unit) => counts(rounded(cm, unit, 1), unit);
const spread = (cm, unit) =>
  counts(Math.max(rounded(cm, unit, SHOWN_COUNTS[unit]), SHOWN_COUNTS[unit]), unit);
const withUnit = (number, unit) => `${number}\u00a0${unit}`;

/** Numbers of a text, with their fractions of an inch. */
const numbers = (text) =>
  text.match(/\d+(?:\.\d+)?(?:\u00a0[⅛¼⅜½⅝¾⅞])?|[⅛¼⅜½⅝¾⅞]/g) ?? [];

/** The words for a place, from the position alone. */
function placeNumbers(position) {
  if (position.kind === "percentile") {
    return [position.low, position.high].map(({ at, below, above }) =>
      String(below ?? above ?? Math.min(99, Math.max(1, Math.floor(at + 0.5)))),
    );
  }
  if (position.kind === "band") return [position.low, position.high, position.bands].map(String);
  return [];
}

const visible = (locator) => locator.evaluateAll((all) => all.map((one) => one.textContent.trim()));

async function compareResult(page, said) {
  const unit = unitOf(said);
  const main = page.locator("main");
  const best = height(said.best_cm, unit);
  const expected = [best, said.date];
  assert.deepEqual(await visible(main.locator(".lead")), [
    `Your best today: ${withUnit(best, unit)}`,
  ]);

  const error = spread(said.standard_error_cm, unit);
  const text = await main.textContent();
  const drawn = await visible(main.locator("svg text, svg tspan"));
  if (said.usual) {
    const usual = height(said.usual.height_cm, unit);
    expected.push(usual, error, String(said.usual.trials));
    const sentence = `Your usual jump: ${withUnit(usual, unit)} ± ${withUnit(error, unit)}`;
    assert.ok(text.includes(sentence), `${sentence} in ${text}`);
    assert.ok(text.includes(`What ± ${withUnit(error, unit)} means`), "the hatch");
    const zone = drawn.some((one) => one.includes(`${usual} ± ${error}`));
    assert.ok(zone, `usual ${usual} ± ${error} in ${drawn.join(" | ")}`);
    assert.match(text, said.usual.trials >= 3 ? /the mean of the first three/ : /from \d trial/);
  } else {
    assert.match(text, /Only the top mark is known, so there is no usual jump\./);
  }
  assert.ok(drawn.includes(best), `best ${best} in ${drawn.join(" | ")}`);
  if (said.standing_reach_cm !== null) {
    const mark = exact(said.standing_reach_cm + said.best_cm, unit);
    for (const number of [exact(said.standing_reach_cm, unit), mark]) {
      assert.ok(drawn.some((one) => one.includes(number)), `${number} in ${drawn.join(" | ")}`);
    }
  }

  const rows = await visible(main.locator("details td.num"));
  assert.equal(rows.length, said.trials.length, "trials");
  said.trials.forEach((trial, at) => {
    expected.push(String(at + 1));
    if (trial.foul) assert.match(rows[at], /^Foul/i);
    else {
      const shown = height(trial.jump_height_cm, unit);
      expected.push(shown);
      // A jump timed in the air shows its time first, from which the height follows.
      const [, time] = /^(\d+\.\d+)\ss, /.exec(rows[at]) ?? [];
      if (time) {
        // The take-off speed of the best jump is g T / 2.
        expected.push(time, ((9.80665 * Number(time)) / 2).toFixed(2));
        const fallen = (100 * 9.80665 * Number(time) ** 2) / 8;
        assert.ok(Math.abs(fallen - trial.jump_height_cm) < 0.1, `${rows[at]} is not g t²/8`);
      }
      assert.equal(time ? rows[at].split("s, ")[1] : rows[at], withUnit(shown, unit));
    }
  });
  const reaches = said.reaches_cm.map((reach) => exact(reach, unit));
  const reading = await main.locator("details dd").nth(1).textContent();
  reaches.forEach((reach) => assert.ok(reading.includes(withUnit(reach, unit)), reading));
  expected.push(...reaches);

  await compareBands(main, said, unit, expected);

  assert.equal(text.includes("Noted as tired"), said.is_tired, "tired");
  assert.equal(text.includes("Noted as rough"), said.rough.length > 0, "rough");
  assert.equal(text.includes("Your first two tests are practice"), said.is_practice, "practice");

  // Nothing else on the page is a number: what is left over must be one of the above, of a sentence
  // that is in the output, or of a fixed sentence about no test in particular.
  const prose = await main.evaluate((root) => {
    const copy = root.cloneNode(true);
    // The drawing's ticks are a ruler, its figures were compared above.
    for (const svg of copy.querySelectorAll("svg")) svg.remove();
    // What a run-up added for other people: published figures with their sources, the same for all.
    for (const list of copy.querySelectorAll(".run-up")) list.remove();
    return [...copy.querySelectorAll("p, h1, h2, h3, li, th, td, dd, dt")]
      .filter((one) => !one.querySelector("p, li"))
      .map((one) => one.textContent)
      .join("\n");
  });
  const fixed = ["about 2 times in 3", "From 10 to 16, early"];
  const [year, , day] = said.date.split("-");
  const sentences = said.compared.flatMap((one) => [
    one.title,
    one.sentence,
    one.comparability_sentence,
    one.attribution,
    ...one.cautions,
  ]);
  const known = new Set(
    [...expected, ...fixed, ...sentences, year, String(Number(day))].flatMap(numbers),
  );
  for (const kind of [said.test_kind.sentence, ...said.not_compared.map((one) => one.sentence)]) {
    numbers(kind).forEach((number) => known.add(number));
  }
  // Rules of a table that hold for every test in it, and the day of an earlier reach.
  const rules = /Strip 1 is the lowest|Near means within 5|within 2|covers part of your age group/;
  const lines = prose.split("\n").filter((line) => !rules.test(line));
  const strange = lines.flatMap((line) =>
    numbers(line).filter((number) => !known.has(number)).map((number) => `${number}: ${line}`),
  );
  const reused = reading.match(/\d{4}/) ? numbers(reading) : [];
  assert.deepEqual(strange.filter((one) => !reused.includes(one.split(":")[0])), []);
  return numbers(prose).length;
}

async function compareBands(main, said, unit, expected) {
  const bands = main.locator(".band");
  assert.equal(await bands.count(), said.compared.length, "tables listed");
  for (const [at, one] of said.compared.entries()) {
    const band = bands.nth(at);
    assert.equal(await band.locator("h3").textContent(), one.title);
    const sentence = await band.locator("p.strong").textContent();
    assert.equal(sentence, one.sentence);
    for (const number of placeNumbers(one.position)) {
      assert.ok(numbers(sentence.slice(one.title.length)).includes(number), `${number}: ${sentence}`);
    }
    if (one.position.kind === "average") {
      const { low, high } = one.position;
      for (const word of new Set([low, high])) assert.ok(sentence.includes(word), sentence);
    }
  }
  const text = await main.textContent();
  for (const one of said.not_compared.filter(({ because }) => because !== "not_asked")) {
    if (said.compared.length === 0) assert.ok(text.includes(one.sentence), one.sentence);
  }
  const three = height(said.best_of_first_three_cm, unit);
  const named = text.includes(`the best of your first three counts here: ${withUnit(three, unit)}`);
  const differs = said.best_of_first_three_cm !== said.best_cm;
  assert.equal(named, differs && said.compared.length > 0, "the best of the first three");
  if (named) expected.push(three);
}

/** The page about the ±: every part with its size, the largest first, and all together. */
async function compareSure(page, said) {
  const unit = unitOf(said);
  const chooser = page.locator("#sure-test");
  if (await chooser.count()) await chooser.selectOption(said.id);
  const size = (cm) => {
    const whole = rounded(cm, unit, 1);
    return whole === 0 ? `under ${counts(1, unit)}` : counts(whole, unit);
  };
  const parts = Object.values(said.standard_error_parts_cm).filter((cm) => cm > 0);
  parts.sort((a, b) => b - a);
  const shown = await visible(page.locator(".info-table tbody td.num"));
  assert.deepEqual(shown, [...parts, said.standard_error_cm].map(size));
  const text = await page.locator("main").textContent();
  if (said.usual) {
    const [usual, error] = [height(said.usual.height_cm, unit), spread(said.standard_error_cm, unit)];
    const sentence = `Usual jump: ${withUnit(usual, unit)} ± ${withUnit(error, unit)}`;
    assert.ok(text.includes(sentence), `${sentence} in ${text}`);
  }
  return shown.length;
}

test("every number on the screen is one that evaluate gives", async () => {
  const { page, watch, context } = await here.open();
  await page.goto(`${here.host.url}#/data`);
  await mounted(page);
  await page.locator("#restore-file").setInputFiles(SAMPLE);
  await press(page, "Restore this");
  await page.getByText("Restored.", { exact: true }).waitFor();

  const [download] = await Promise.all([
    page.waitForEvent("download"),
    press(page, "Save a backup file"),
  ]);
  const { backup, people } = evaluate(await download.path());
  assert.equal(backup.sum, "right");
  assert.equal(backup.tests_of_nobody, 0);
  assert.ok(people.length >= 8);

  let [tests, compared] = [0, 0];
  for (const person of people) {
    await page.goto(`${here.host.url}#/`);
    await page.getByRole("button", { name: person.nickname, exact: true }).click();
    for (const said of person.tests) {
      await page.goto(`${here.host.url}#/result/${said.id}`);
      await heading(page, "Result");
      await page.locator(`main .lead`).waitFor();
      compared += await compareResult(page, said);
      await page.goto(`${here.host.url}#/sure`);
      await heading(page, "How sure is this?");
      compared += await compareSure(page, said);
      tests += 1;
    }
  }
  assert.equal(tests, 18);
  assert.ok(compared > 400, `${compared} numbers compared`);
  watch.assertCalm();
  await context.close();
});
