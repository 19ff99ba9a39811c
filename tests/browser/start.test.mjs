// The page starts, keeps to itself, and starts again without a network.

import { after, before, test } from "node:test";
import { appendFileSync, cpSync, readFileSync, readdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import assert from "node:assert/strict";
import {
  assertAccessible,
  dist,
  keptOffline,
  mounted,
  root,
  scratch,
  startBrowser,
  startHost,
  startProfile,
  until,
} from "./kit.mjs";

let host;
let browser;
before(async () => {
  host = await startHost({ prefix: "/some/folder/" });
  browser = await startBrowser();
});
after(async () => {
  await browser?.stop();
  await host?.stop();
});

test("mounts from any folder, under its policy, with no request elsewhere", async () => {
  const { context, page, watch } = await browser.open();
  await page.goto(`${host.url}#/a-secret-fragment`);
  await mounted(page);
  assert.ok(await page.getByRole("heading", { level: 1 }).first().isVisible());
  await keptOffline(page);
  watch.assertSealed(host.origin);
  watch.assertCalm();
  const asked = host.requests();
  assert.ok(asked.includes("GET /some/folder/"), "the server's log shows the page itself");
  assert.ok(!asked.some((line) => line.includes("secret")), "a fragment stays in the browser");
  await context.close();
});

test("fetches no file twice before the first tap", async () => {
  const { context, page } = await browser.open({ serviceWorkers: "block" });
  const start = host.requests().length;
  await page.goto(host.url);
  await mounted(page);
  const asked = host.requests().slice(start);
  assert.deepEqual(asked, [...new Set(asked)]);
  await context.close();
});

test("nothing of the first load waits for the script that runs before the first paint", async () => {
  const { context, page } = await browser.open({ serviceWorkers: "block" });
  let letGo;
  const held = new Promise((resolve) => (letGo = resolve));
  await page.route(/\/early-\w+\.js$/, async (route) => {
    await held;
    await route.continue();
  });
  const asked = [/\/style-\w+\.css$/, /\/boot-\w+\.js$/, /_bg\.wasm$/].map((name) => page.waitForRequest(name));
  const opened = page.goto(host.url);
  await Promise.all(asked);
  letGo();
  await opened;
  await mounted(page);
  await context.close();
});

test("no part of the page turns text into code", () => {
  const scripts = readdirSync(dist).filter((name) => name.endsWith(".js"));
  assert.ok(scripts.length >= 5, "the build's scripts were found");
  for (const name of scripts) {
    assert.doesNotMatch(readFileSync(join(dist, name), "utf8"), /\beval\(|new Function|innerHTML/, name);
  }
});

test("opens with the server stopped, and shows the paper page too", async () => {
  const { context, page, watch } = await browser.open();
  await page.goto(host.url);
  await mounted(page);
  await keptOffline(page);
  await host.pause();
  try {
    await page.reload();
    await mounted(page);
    await page.goto(new URL("paper.html", host.url).href);
    assert.equal(await page.getByRole("heading", { level: 1 }).textContent(), "Jump test on paper");
    watch.assertSealed(host.origin);
    watch.assertCalm();
  } finally {
    await host.resume();
  }
  await context.close();
});

test("changes over to a new version only when told, and lets the old files go", async () => {
  const { context, page, watch } = await browser.open();
  const place = scratch();
  cpSync(dist, place.folder, { recursive: true });
  const changing = await startHost({ folder: place.folder });
  await page.goto(changing.url);
  await mounted(page);
  await keptOffline(page);
  const kept = () => page.evaluate(() => caches.keys());
  const [first] = await kept();

  const worker = join(place.folder, "sw.js");
  writeFileSync(worker, readFileSync(worker, "utf8").replace(/VERSION = "\w+"/, 'VERSION = "next"'));
  await page.reload();
  await page.waitForFunction(() => document.documentElement.dataset.updateReady === "yes");
  assert.equal((await kept()).length, 2, "the new version waits beside the old one");

  const again = page.waitForEvent("load");
  await page.evaluate(() => window.dispatchEvent(new CustomEvent("two-marks:apply-update")));
  await again;
  await mounted(page);
  await until(page, async () => (await caches.keys()).length === 1);
  const [now] = await kept();
  assert.notEqual(now, first);
  assert.match(now, /next$/);
  watch.assertSealed(changing.origin);
  watch.assertCalm();
  await context.close();
  await changing.stop();
  place.release();
});

test("refuses a program whose bytes are not those of the build", async () => {
  const { context, page } = await browser.open({ serviceWorkers: "block" });
  const place = scratch();
  cpSync(dist, place.folder, { recursive: true });
  const program = readdirSync(place.folder).find((name) => name.endsWith("_bg.wasm"));
  // An empty custom section at the end: still a program that would run just the same.
  appendFileSync(join(place.folder, program), Buffer.from([0, 2, 1, 0x78]));
  const tampered = await startHost({ folder: place.folder });
  await page.goto(tampered.url);
  await page.getByRole("heading", { name: "did not arrive in full" }).waitFor();
  await context.close();
  await tampered.stop();
  place.release();
});

test("refuses an offline copy whose bytes are not those of the build", async () => {
  const { context, page } = await browser.open();
  const place = scratch();
  cpSync(dist, place.folder, { recursive: true });
  writeFileSync(join(place.folder, "icon-mask.svg"), "<svg/>");
  const tampered = await startHost({ folder: place.folder });
  await page.goto(tampered.url);
  await mounted(page);
  const state = await page.evaluate(async () => {
    const registration = await navigator.serviceWorker.register("./sw.js");
    const worker = registration.installing;
    if (!worker) return "none";
    await new Promise((resolve) => {
      worker.onstatechange = () => worker.state !== "installing" && resolve();
    });
    return worker.state;
  });
  assert.equal(state, "redundant");
  await context.close();
  await tampered.stop();
  place.release();
});

test("a bad worker can be taken back by publishing sw-off.js", async () => {
  const { context, page } = await browser.open();
  const place = scratch();
  cpSync(dist, place.folder, { recursive: true });
  const changing = await startHost({ folder: place.folder });
  await page.goto(changing.url);
  await mounted(page);
  await keptOffline(page);
  await page.evaluate(() => localStorage.setItem("two-marks/r/1", "{}"));

  cpSync(join(root, "docs/hosting/sw-off.js"), join(place.folder, "sw.js"));
  await page.reload();
  await until(page, async () => {
    const registrations = await navigator.serviceWorker.getRegistrations();
    return registrations.length === 0 && (await caches.keys()).length === 0;
  });
  assert.equal(await page.evaluate(() => localStorage.getItem("two-marks/r/1")), "{}");
  await context.close();
  await changing.stop();
  place.release();
});

test("opens without a network after the browser was killed", async () => {
  const place = scratch();
  const first = await startProfile(place.folder);
  await first.page.goto(host.url);
  await mounted(first.page);
  await keptOffline(first.page);
  await first.kill();
  await host.pause();
  try {
    const second = await startProfile(place.folder);
    await second.page.goto(host.url);
    await mounted(second.page);
    await second.stop();
  } finally {
    await host.resume();
    place.release();
  }
});

test("shell and paper page are accessible in every theme", async () => {
  for (const [theme, colorScheme] of [["light", "dark"], ["dark", "light"], ["sun", "dark"]]) {
    const { context, page } = await browser.open({ colorScheme });
    await context.addInitScript((its) => localStorage.setItem("two-marks/theme", `"${its}"`), theme);
    await page.goto(host.url);
    await mounted(page);
    assert.equal(await page.evaluate(() => document.documentElement.dataset.theme), theme);
    const open = await assertAccessible(page);
    await page.evaluate(() => window.dispatchEvent(new CustomEvent("two-marks:panic")));
    open.push(...(await assertAccessible(page)));
    await page.goto(new URL("paper.html", host.url).href);
    open.push(...(await assertAccessible(page)));
    for (const line of open) console.log(`note: left open by axe, ${theme}: ${line}`);
    await context.close();
  }
});

test("without script, the shell says so and leads to the paper page", async () => {
  const { context, page } = await browser.open({ javaScriptEnabled: false });
  await page.goto(host.url);
  assert.ok(await page.getByRole("heading", { level: 1, name: "Two Marks" }).isVisible());
  await page.getByRole("link", { name: "paper" }).click();
  await page.getByRole("table", { name: "Jumps" }).waitFor();
  await context.close();
});

test("without WebAssembly, the page says that it cannot run", async () => {
  const { context, page } = await browser.open({ serviceWorkers: "block" });
  await page.addInitScript(() => delete globalThis.WebAssembly);
  await page.goto(host.url);
  await page.getByRole("heading", { name: "This browser cannot run Two Marks" }).waitFor();
  await context.close();
});

test("when the line breaks while loading, the page says so and can try again", async () => {
  const { context, page } = await browser.open({ serviceWorkers: "block" });
  await page.route("**/*.wasm", (route) => route.abort());
  await page.goto(host.url);
  await page.getByRole("heading", { name: "did not arrive in full" }).waitFor();
  await page.unroute("**/*.wasm");
  await page.getByRole("button", { name: "Try again" }).click();
  await mounted(page);
  await context.close();
});

test("what breaks before the script for crashes has come is said when it comes", async () => {
  const { context, page } = await browser.open({ serviceWorkers: "block" });
  let letGo;
  const held = new Promise((resolve) => (letGo = resolve));
  await page.route(/\/crash-\w+\.js$/, async (route) => {
    await held;
    await route.continue();
  });
  await page.route(/_bg\.wasm$/, (route) => route.abort());
  const opened = page.goto(host.url, { waitUntil: "commit" });
  await opened;
  await page.waitForFunction(() => document.documentElement.hasAttribute("data-no-start"));
  assert.equal(await page.locator(".crash:not([hidden])").count(), 0);
  letGo();
  await page.getByRole("heading", { name: "The page did not arrive in full" }).waitFor();
  await context.close();
});

test("after a panic, the raw copy holds the stored records", async () => {
  const { context, page } = await browser.open();
  await page.goto(host.url);
  await mounted(page);
  await page.evaluate(() => {
    localStorage.setItem("two-marks/r/1", '{"a":1}');
    localStorage.setItem("two-marks/r/2", "torn {");
    localStorage.setItem("two-marks/theme", '"dark"');
    window.dispatchEvent(new CustomEvent("two-marks:panic"));
  });
  await page.getByRole("heading", { name: "Something broke on this page" }).waitFor();
  const waiting = page.waitForEvent("download");
  await page.getByRole("button", { name: "Save a raw copy" }).click();
  const stream = await (await waiting).createReadStream();
  const copy = JSON.parse((await stream.toArray()).join(""));
  assert.deepEqual(copy, {
    kind: "two-marks backup",
    version: 1,
    records: [{ a: 1 }],
    unreadable: [{ key: "two-marks/r/2", text: "torn {" }],
  });
  await page.getByRole("button", { name: "Reload" }).click();
  await mounted(page);
  assert.equal(await page.evaluate(() => document.documentElement.dataset.theme), "dark");
  await context.close();
});
