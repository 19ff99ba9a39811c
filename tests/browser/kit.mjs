// What the browser tests share: the static host, a browser of their own, and a watch on
// everything that leaves the page.

import { chromium } from "playwright-core";
import { execFileSync, spawn } from "node:child_process";
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { createInterface } from "node:readline";
import { fileURLToPath } from "node:url";
import assert from "node:assert/strict";

const here = dirname(fileURLToPath(import.meta.url));
export const root = join(here, "..", "..");
export const dist = join(root, "dist");

export const VIEWPORTS = {
  phone: { width: 390, height: 844 },
  small: { width: 320, height: 640 },
  wide: { width: 1280, height: 800 },
};

// Without the background switches Chromium keeps dialling out on its own.
const SWITCHES = [
  "--disable-gpu",
  "--disable-quic",
  "--no-first-run",
  "--disable-background-networking",
  "--disable-component-update",
  "--disable-sync",
];

export function browserPath() {
  const chosen = process.env.TWO_MARKS_CHROMIUM;
  const known = ["/usr/bin/chromium", "/usr/bin/chromium-browser", "/usr/bin/google-chrome"];
  const found = [chosen, ...known].find((path) => path && existsSync(path));
  assert.ok(found, "no Chromium found: install the package chromium or set TWO_MARKS_CHROMIUM");
  return found;
}

function options(more) {
  const asRoot = process.getuid?.() === 0 ? ["--no-sandbox"] : [];
  const { args = [], ...rest } = more;
  return {
    executablePath: browserPath(),
    headless: true,
    args: [...SWITCHES, ...asRoot, ...args],
    // Playwright would switch the sandbox off for everybody.
    chromiumSandbox: asRoot.length === 0,
    ...rest,
  };
}

/** A folder that is gone when `release` is called. */
export function scratch(name = "two-marks-") {
  const folder = mkdtempSync(join(tmpdir(), name));
  return { folder, release: () => rmSync(folder, { recursive: true, force: true, maxRetries: 5 }) };
}

/** What a general QR reader reads from a picture of an element. */
export async function readCode(locator) {
  const place = scratch("two-marks-qr-");
  try {
    const picture = join(place.folder, "code.png");
    writeFileSync(picture, await locator.screenshot());
    return execFileSync("zbarimg", ["--quiet", "--raw", picture], {
      encoding: "utf8",
      stdio: ["ignore", "pipe", "ignore"],
    }).trim();
  } finally {
    place.release();
  }
}

/** The project's own static server on a free port, with its log of requests. */
export async function startHost({ folder = dist, prefix = "/" } = {}) {
  const program = process.env.TWO_MARKS_XTASK ?? join(root, "target", "debug", "xtask");
  const place = scratch();
  const log = join(place.folder, "requests.log");
  const host = { origin: "", url: "", port: 0 };
  let child;

  async function listen(port) {
    const words = ["host", folder, "--port", String(port), "--prefix", prefix, "--log", log];
    child = spawn(program, words, { stdio: ["ignore", "pipe", "inherit"] });
    const lines = createInterface({ input: child.stdout });
    for await (const line of lines) {
      const [, url] = /^serving at (\S+)$/.exec(line) ?? [];
      if (!url) continue;
      Object.assign(host, { url, origin: new URL(url).origin, port: Number(new URL(url).port) });
      break;
    }
    assert.ok(host.url, "the static host did not start");
    child.stdout.resume();
  }

  async function end() {
    if (child.exitCode !== null || child.signalCode !== null) return;
    const gone = new Promise((resolve) => child.once("exit", resolve));
    child.kill();
    await gone;
  }

  await listen(0);
  return Object.assign(host, {
    /** Every request as the server saw it, such as "GET /index.html". */
    requests: () => readFileSync(log, "utf8").split("\n").filter(Boolean),
    /** Takes the server away, as a dead network does. */
    pause: end,
    /** Brings it back at the same address; the log begins anew. */
    resume: () => listen(host.port),
    stop: async () => {
      await end();
      place.release();
    },
  });
}

/** A fresh browser; `open` gives a context and a watched page. */
export async function startBrowser(more = {}) {
  const browser = await chromium.launch(options(more));
  return {
    browser,
    open: async (settings = {}) => {
      const context = await browser.newContext({ viewport: VIEWPORTS.phone, ...settings });
      const watch = await watchContext(context);
      return { context, watch, page: await context.newPage() };
    },
    stop: () => browser.close(),
  };
}

/** A browser with a profile on disk that can be killed and started again. */
export async function startProfile(folder, settings = {}) {
  const context = await chromium.launchPersistentContext(
    folder,
    options({ viewport: VIEWPORTS.phone, ...settings }),
  );
  const watch = await watchContext(context);
  const session = await context.browser()?.newBrowserCDPSession();
  return {
    context,
    watch,
    page: context.pages()[0] ?? (await context.newPage()),
    /** Ends the process at once, with no chance to write anything down. */
    kill: async () => {
      const { processInfo } = await session.send("SystemInfo.getProcessInfo");
      const main = processInfo.find(({ type }) => type === "browser");
      const gone = new Promise((resolve) => context.once("close", resolve));
      process.kill(main.id, "SIGKILL");
      await gone;
    },
    stop: () => context.close(),
  };
}

/** Writes down every request, console error, uncaught error and refusal of the content policy. */
export async function watchContext(context) {
  const seen = { requests: [], troubles: [] };
  await context.addInitScript(() => {
    document.addEventListener("securitypolicyviolation", (event) => {
      console.error(`content policy: ${event.violatedDirective} ${event.blockedURI}`);
    });
    // Heard before the page hears it, which draws the new page within the same task: see `arrived`.
    const hear = () => {
      globalThis.hashHeard = location.hash;
    };
    hear();
    addEventListener("hashchange", hear);
  });
  context.on("request", (request) => seen.requests.push(request.url()));
  context.on("console", (message) => {
    if (message.type() === "error") seen.troubles.push(message.text());
  });
  context.on("weberror", (error) => seen.troubles.push(String(error.error())));
  return Object.assign(seen, {
    /** Fails unless requests were seen and all went to this origin. */
    assertSealed: (origin) => {
      assert.ok(seen.requests.length > 0, "no request was seen, so nothing was shown");
      const outside = seen.requests.filter((url) => {
        const { protocol, origin: its } = new URL(url);
        // The page's own bytes in memory: nothing is fetched from anywhere.
        return protocol !== "blob:" && protocol !== "data:" && its !== origin;
      });
      assert.deepEqual(outside, [], "requests to other origins");
    },
    /** Fails when anything was refused or broke. */
    assertCalm: () => assert.deepEqual(seen.troubles, [], "errors in the page"),
  });
}

const axe = readFileSync(new URL("node_modules/axe-core/axe.min.js", import.meta.url), "utf8");

/** Fails on any accessibility rule that can be checked by program; returns what it left open. */
export async function assertAccessible(page) {
  await page.evaluate(axe);
  const { violations, incomplete } = await page.evaluate(() =>
    globalThis.axe.run({
      runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"],
      rules: { "target-size": { enabled: true } },
    }),
  );
  const short = (found) =>
    found.flatMap(({ id, nodes }) => nodes.map(({ html }) => `${id}: ${html.slice(0, 120)}`));
  assert.deepEqual(short(violations), [], "accessibility");
  return short(incomplete);
}

/** Waits until the page has been mounted into its shell. */
export async function mounted(page) {
  await page.waitForFunction(() => document.querySelector("#app")?.childElementCount > 0);
}

/** Waits for the page itself, past what stands in its place while a part of it is fetched. */
export async function arrived(page) {
  // The shell has a heading too, and stands until what is stored can be read. After a new address the
  // old page stands until the address's change has been told.
  await page.waitForFunction(
    () =>
      globalThis.hashHeard === location.hash &&
      document.querySelector("#app h1") &&
      !document.querySelector('main [aria-busy="true"]'),
  );
}

/** Waits until the page answers yes. For what takes a promise to tell: `waitForFunction` would take the
 * promise itself for a yes. */
export async function until(page, asked) {
  for (let time = 0; time < 600; time += 1) {
    if (await page.evaluate(asked)) return;
    await page.waitForTimeout(50);
  }
  assert.fail(`never true in the page: ${asked}`);
}

/** Whether an address is that of a part of the program, fetched when a page of it is opened. */
export const isPart = (url) => /\/(part|shared)-[\w-]+\.wasm$/.test(url);

/** Waits until the worker holds the whole page. */
export async function keptOffline(page) {
  await page.waitForFunction(() => document.documentElement.dataset.offlineReady === "yes");
}

/** Presses a button by the name that a screen reader tells. */
export const press = (page, name) => page.getByRole("button", { name }).click();

/** Follows a link by its name. */
export const follow = (page, name) => page.getByRole("link", { name }).click();

/** Chooses one of several by its name. */
export const choose = (page, name) => page.getByRole("radio", { name }).check();

/** Types into a field found by its label. */
export const fill = (page, label, text) => page.getByLabel(label).fill(text);
