// One walk in a second engine, by hand: a whole test in Firefox, kept over a restart of the browser
// and opened with the server gone.
//
//   node tests/browser/second.mjs [FOLDER FOR PICTURES]     after `cargo xtask build`
//
// Firefox is steered over its own WebDriver port, so nothing has to be installed beside it.

import assert from "node:assert/strict";
import { spawn } from "node:child_process";
import { existsSync, mkdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import net from "node:net";
import { join } from "node:path";
import { scratch, startHost } from "./kit.mjs";

const ELEMENT = "element-6066-11e4-a52e-4f735466cecf";
/** How often something is looked for, and how long in between, in milliseconds. */
const LOOKS = 300;
const PAUSE_MS = 100;

const firefox = [process.env.TWO_MARKS_FIREFOX, "/usr/bin/firefox-esr", "/usr/bin/firefox"].find(
  (path) => path && existsSync(path),
);
assert.ok(firefox, "no Firefox found: install firefox-esr or set TWO_MARKS_FIREFOX");
const pictures = process.argv[2];
if (pictures) mkdirSync(pictures, { recursive: true });

const pause = () => new Promise((resolve) => setTimeout(resolve, PAUSE_MS));

async function until(what, look) {
  let cause;
  for (let count = 0; count < LOOKS; count += 1) {
    const found = await look().catch((fault) => {
      cause = fault;
    });
    if (found) return found;
    await pause();
  }
  throw new Error(`never seen: ${what}`, { cause });
}

/** Starts Firefox on a profile and opens the line to it. */
async function start(profile) {
  const words = ["--headless", "--no-remote", "--marionette", "--profile", profile];
  // The file of an earlier run would name a port that nobody listens on.
  rmSync(join(profile, "MarionetteActivePort"), { force: true });
  // Without a screen Firefox takes the size of its window from here.
  const env = { ...process.env, MOZ_HEADLESS_WIDTH: "390", MOZ_HEADLESS_HEIGHT: "844" };
  const child = spawn(firefox, words, { stdio: "ignore", env });
  const gone = new Promise((resolve) => child.once("exit", resolve));
  // The port stands in a file of the profile once Firefox listens.
  const port = await until("the port of Firefox", async () =>
    Number(readFileSync(join(profile, "MarionetteActivePort"), "utf8")),
  );
  const socket = net.connect(port, "127.0.0.1");
  const waiting = new Map();
  let bytes = Buffer.alloc(0);
  socket.on("data", (more) => {
    bytes = Buffer.concat([bytes, more]);
    for (let colon = bytes.indexOf(":"); colon > 0; colon = bytes.indexOf(":")) {
      const end = colon + 1 + Number(bytes.subarray(0, colon));
      if (bytes.length < end) return;
      const message = JSON.parse(bytes.subarray(colon + 1, end));
      bytes = bytes.subarray(end);
      if (!Array.isArray(message)) continue;
      const [, number, fault, result] = message;
      const { resolve, reject } = waiting.get(number);
      if (fault) reject(new Error(`${fault.error}: ${fault.message}`));
      else resolve(result);
    }
  });
  let count = 0;
  const ask = (name, parameters = {}) => {
    count += 1;
    const text = JSON.stringify([0, count, `WebDriver:${name}`, parameters]);
    socket.write(`${Buffer.byteLength(text)}:${text}`);
    return new Promise((resolve, reject) => waiting.set(count, { resolve, reject }));
  };
  await ask("NewSession", { capabilities: {} });
  const run = async (script, ...args) => (await ask("ExecuteScript", { script, args })).value;
  const find = (xpath) =>
    until(xpath, async () => {
      const { value } = await ask("FindElement", { using: "xpath", value: xpath });
      return value[ELEMENT];
    });
  return {
    ask,
    run,
    open: (url) => ask("Navigate", { url }),
    press: async (xpath) => {
      // A control may be drawn anew between being found and being pressed.
      await until(`pressing ${xpath}`, async () => {
        await ask("ElementClick", { id: await find(xpath) });
        return true;
      });
    },
    type: async (text) => {
      await ask("ElementSendKeys", { id: await find('//*[@id="entry"]'), text });
    },
    heading: (text) => find(`//h1[contains(normalize-space(.), "${text}")]`),
    says: (text) => find(`//*[contains(normalize-space(text()), "${text}")]`),
    picture: async (name) => {
      if (!pictures) return;
      const { value } = await ask("TakeScreenshot", { full: false });
      writeFileSync(join(pictures, `${name}.png`), Buffer.from(value, "base64"));
    },
    stop: async () => {
      socket.destroy();
      child.kill();
      await gone;
    },
  };
}

const button = (name) => `//button[starts-with(normalize-space(.), "${name}")]`;
const radio = (name, within = "") =>
  `${within}//*[@role="radio" and normalize-space(.)="${name}"]`;

const place = scratch("two-marks-firefox-");
writeFileSync(
  join(place.folder, "user.js"),
  'user_pref("intl.accept_languages","en-GB");user_pref("intl.locale.requested","en-GB");' +
    'user_pref("marionette.port",0);',
);
const host = await startHost();
let page = await start(place.folder);
try {
  await page.open(host.url);
  await page.picture("1-home");
  await page.press(button("Start a test"));
  await page.press(radio("15 to 17"));
  await page.press(button("Go to the ready check"));
  for (const question of ["unwell", "fits", "legs"]) {
    await page.press(radio("No", `//*[@id="${question}"]`));
  }
  await page.picture("2-ready");
  await page.press('//*[@id="looked"]');
  await page.press(button("Go to warm-up"));
  await page.press(button("I am warm"));
  await page.press(button("Go to the reach"));
  const keep = async (reading) => {
    await page.type(reading);
    await page.press('//*[@id="main-action"]');
  };
  for (const reach of ["224", "225", "224.5"]) await keep(reach);
  await page.picture("3-reach");
  await page.press(button("Go on to the jumps"));
  await page.press(button("No"));
  for (const mark of ["265.5", "266.5", "268", "267.5"]) await keep(mark);
  await page.picture("4-jumps");
  await page.press(button("Check the readings"));
  await page.press(button("Save result"));
  await page.says("Saved on this device.");
  await page.picture("5-result");
  const best = await page.run("return document.querySelector('main').innerText");
  assert.match(best, /Your best today: 43\.5\scm/, "the best of 268 over a reach of 224.5");
  await until("the worker holds the page", () =>
    page.run('return document.documentElement.dataset.offlineReady === "yes"'),
  );
  const agent = await page.run("return navigator.userAgent");
  await page.stop();
  await host.pause();

  page = await start(place.folder);
  await page.open(`${host.url}#/tests`);
  await page.says("43.5");
  await page.picture("6-tests-without-a-server");
  await page.open(`${host.url}#/season`);
  await page.heading("Season");
  await page.picture("7-season-without-a-server");
  console.log(`a whole test, kept and opened without a server, in ${agent}`);
} finally {
  await page.stop();
  await host.stop();
  place.release();
}
