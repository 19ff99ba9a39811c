// Times inside the page, on a processor four times slower than this machine's.

import { CHROME_4X, inPage, openSlow } from "./slow.mjs";
import { median, RUNS } from "./numbers.mjs";
import { follow, keptOffline, mounted, press } from "../kit.mjs";
import { heading, saved, savedTest, wholeTest } from "../steps.mjs";

export const spread = (values) => ({ median: median(values), low: Math.min(...values), high: Math.max(...values) });

/** Runs a measurement several times. */
export async function several(once) {
  const values = [];
  for (let run = 0; run < RUNS; run += 1) values.push(await once());
  return values;
}

/** From the start of loading over slow 4G until the first tap has changed the page and was painted; and
 * until the page it leads to is there, past what stands in its place while a part of it is fetched. */
export async function firstTap(browser, url, selector) {
  const shown = [];
  const times = await several(async () => {
    const { context, page } = await openSlow(browser, { network: true, serviceWorkers: "block" });
    await page.addInitScript((wanted) => {
      const look = () => {
        const button = document.querySelector(wanted);
        if (!button) return void requestAnimationFrame(look);
        const seen = new MutationObserver(() => {
          seen.disconnect();
          requestAnimationFrame(() => setTimeout(() => (globalThis.tapHandled = performance.now())));
          const arrived = () => {
            if (document.querySelector('main [aria-busy="true"]')) return void requestAnimationFrame(arrived);
            requestAnimationFrame(() => setTimeout(() => (globalThis.tapShown = performance.now())));
          };
          requestAnimationFrame(arrived);
        });
        seen.observe(document.querySelector("#app"), { childList: true, subtree: true, characterData: true });
        button.click();
      };
      requestAnimationFrame(look);
    }, selector);
    await page.goto(url);
    const noted = (name) => page.waitForFunction((name) => globalThis[name], name, { timeout: 60_000 });
    shown.push(await (await noted("tapShown")).jsonValue());
    const time = await (await noted("tapHandled")).jsonValue();
    await context.close();
    return time;
  });
  return { ...spread(times), shown: spread(shown) };
}

/** A whole test, its result and its season: the slowest of all taps and keys. */
export async function worstInteraction(browser, url) {
  let worst = { duration: 0 };
  let counted = 0;
  const times = await several(async () => {
    const { context, page } = await openSlow(browser);
    await page.addInitScript(() => {
      globalThis.interactions = [];
      new PerformanceObserver((list) => {
        for (const { interactionId, duration, name, target } of list.getEntries()) {
          if (!interactionId) continue;
          const what = (target?.textContent || target?.id || "").trim().slice(0, 40);
          globalThis.interactions.push({ duration, name, what });
        }
      }).observe({ type: "event", durationThreshold: 16, buffered: true });
    });
    await savedTest(page, url);
    await page.getByRole("radio", { name: "Boys and men" }).click();
    await page.getByText(/Boys 13–15, Indonesia/).first().waitFor();
    await page.goto(`${url}#/`);
    await follow(page, "All tests");
    await heading(page, "All tests");
    await page.goto(`${url}#/`);
    await follow(page, "Season");
    await heading(page, "Season");
    const seen = await page.evaluate(
      () => new Promise((resolve) => setTimeout(() => resolve(globalThis.interactions), 1000)),
    );
    await context.close();
    counted = seen.length;
    const slowest = seen.reduce((most, one) => (one.duration > most.duration ? one : most), { duration: 0 });
    if (slowest.duration > worst.duration) worst = slowest;
    return slowest.duration;
  });
  return { ...spread(times), counted, worst };
}

/** From now on each page of this tab notes when it was mounted and painted; `startedAt` waits for it. */
export const noteStart = (page) =>
  page.addInitScript(() => {
    const look = () => {
      if (!document.querySelector("#app")?.childElementCount) return void requestAnimationFrame(look);
      requestAnimationFrame(() => setTimeout(() => (globalThis.startedAt = performance.now())));
    };
    requestAnimationFrame(look);
  });

/** From the navigation to the mounted, painted page, in milliseconds. */
export const startedAt = async (page) => (await page.waitForFunction(() => globalThis.startedAt)).jsonValue();

/** From the navigation to the mounted, painted page, with the server gone and the worker stopped. */
export async function offlineStart(browser, host) {
  const { context } = await openSlow(browser);
  const first = await context.newPage();
  await first.goto(host.url);
  await mounted(first);
  await keptOffline(first);
  await first.close();
  await host.pause();
  const failed = [];
  context.on("requestfailed", (request) => failed.push(new URL(request.url()).pathname));
  try {
    const times = await several(async () => {
      const page = await context.newPage();
      const session = await context.newCDPSession(page);
      await session.send("ServiceWorker.enable");
      await session.send("ServiceWorker.stopAllWorkers");
      await session.send("Emulation.setCPUThrottlingRate", { rate: CHROME_4X });
      await noteStart(page);
      await page.goto(host.url);
      const time = await startedAt(page);
      await page.close();
      return time;
    });
    return { ...spread(times), failed: [...new Set(failed)] };
  } finally {
    await host.resume();
    await context.close();
  }
}

/** A person with so many tests on so many days, as backup text. */
function backup(tests) {
  const records = [
    { v: 1, k: "p", i: "BsRdGIAJRU_4i7iockyB7A", l: "BsRd", r: 1, e: 1, name: "Wren", born: 197501, cmp: "both", u: "cm/2" },
  ];
  for (let n = 0; n < tests; n += 1) {
    const day = new Date(Date.UTC(2024, 0, 1 + n * 2));
    const marks = [2700, 2710, 2705].map((mark) => mark + ((n * 7) % 61));
    records.push({
      v: 1,
      k: "t",
      i: `bench${String(n).padStart(16, "0")}A`,
      p: "BsRd",
      r: 1,
      e: 1,
      d: Number(day.toISOString().slice(0, 10).replaceAll("-", "")),
      m: 1020,
      o: 120,
      u: "cm/2",
      reach: [2240, 2250, 2245],
      trials: marks,
    });
  }
  return JSON.stringify({ kind: "two-marks backup", version: 1, records });
}

/** Opening the season of so many tests. */
export async function season(browser, url, tests) {
  const { context, page, slow } = await openSlow(browser, { rate: 1 });
  await page.goto(`${url}#/data`);
  await mounted(page);
  const buffer = Buffer.from(backup(tests));
  await page.locator("#restore-file").setInputFiles({ name: "backup.json", mimeType: "application/json", buffer });
  await press(page, "Restore this");
  await page.getByText("Restored.").waitFor();
  await slow(CHROME_4X);
  const open = await several(async () => {
    await page.goto(`${url}#/`);
    await page.getByRole("link", { name: "Season" }).waitFor();
    return inPage(page, 'main a[href="#/season"], a[href="#/season"]', "Season");
  });
  await context.close();
  return spread(open);
}

/** Saving a first test, and every write of it in the units that the store counts: UTF-16. */
export async function save(browser, url) {
  const { context, page } = await openSlow(browser);
  await wholeTest(page, url);
  const seen = await saveCost(page);
  await context.close();
  return seen;
}

/** What it takes to save the test whose readings the page shows. */
export async function saveCost(page) {
  await page.evaluate(() => {
    globalThis.written = { store: 0, journal: 0 };
    const set = Storage.prototype.setItem;
    Storage.prototype.setItem = function (key, value) {
      globalThis.written.store += key.length + value.length;
      return set.call(this, key, value);
    };
    for (const name of ["put", "add"]) {
      const kept = IDBObjectStore.prototype[name];
      IDBObjectStore.prototype[name] = function (value, ...key) {
        globalThis.written.journal += JSON.stringify(value).length;
        return kept.call(this, value, ...key);
      };
    }
    globalThis.saveWork = 0;
    new PerformanceObserver((list) => {
      for (const { interactionId, processingStart, processingEnd } of list.getEntries()) {
        if (interactionId) globalThis.saveWork = Math.max(globalThis.saveWork, processingEnd - processingStart);
      }
    }).observe({ type: "event", durationThreshold: 16 });
    const button = [...document.querySelectorAll("button")].find((one) => one.textContent.includes("Save result"));
    button.addEventListener("click", () => (globalThis.saveFrom = performance.now()), true);
    const look = () => {
      if (!document.body.textContent.includes("Saved on this device.")) return void requestAnimationFrame(look);
      requestAnimationFrame(() => setTimeout(() => (globalThis.savedAt = performance.now())));
    };
    requestAnimationFrame(look);
  });
  await press(page, "Save result");
  await saved(page);
  await page.waitForFunction(() => globalThis.savedAt);
  return page.evaluate(() => ({
    work: globalThis.saveWork,
    shown: globalThis.savedAt - globalThis.saveFrom,
    ...globalThis.written,
  }));
}

/** Opening a class whose station has taken down everybody. */
export async function table(browser, url, pupils) {
  const { context, page, slow } = await openSlow(browser, { rate: 1 });
  await fillClass(page, url, pupils);
  await slow(CHROME_4X);
  const seen = await openClass(page, url);
  await context.close();
  return seen;
}

/** A class with a reach and three jumps of everybody, typed at its station. */
export async function fillClass(page, url, pupils) {
  await page.goto(`${url}#/class/new`);
  await mounted(page);
  await page.getByLabel("What is the class called?").fill("Class 8B");
  await page.getByLabel("How many numbers?").selectOption(String(pupils));
  await press(page, "Prepare a class");
  await heading(page, "Class 8B");
  await follow(page, "Open the station");
  const key = (name) => page.getByRole("button", { name, exact: true }).click();
  for (const round of [0, 1, 2, 3]) {
    for (let n = 1; n <= pupils; n += 1) {
      await page.locator(".station__number", { hasText: new RegExp(`^Number ${n}$`) }).waitFor();
      const value = 190 + (n % 7) * 5 + (round === 0 ? 0 : 22 + (n % 11) + round);
      for (const digit of String(value)) await key(digit);
      await key("Keep, next");
    }
  }
  await page.getByText("Everybody is done.").waitFor();
}

/** Opening that class, and the rows of its table. */
export async function openClass(page, url) {
  const open = await several(async () => {
    await page.goto(`${url}#/class`);
    await page.getByRole("link", { name: "Class 8B" }).waitFor();
    return inPage(page, 'main a[href^="#/class/"]:not([href$="new"]):not([href$="lesson"])', "Class 8B");
  });
  return { ...spread(open), rows: await page.locator(".class-table tbody tr").count() };
}
