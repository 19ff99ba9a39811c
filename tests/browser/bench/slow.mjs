// A page on a slower processor and a slower line, by the browser's own development protocol.

import { LOCALE } from "../steps.mjs";

/** How much slower the processor is made: Lighthouse's mobile profile takes the same. */
export const CHROME_4X = 4;

// Slow 4G as the profile applies it to a real connection: 150 ms and 1.6 Mbit/s, with the factors
// that make a browser's throttle come near a network's (Lighthouse's own constants).
const SLOW_4G = {
  offline: false,
  latency: 150 * 3.75,
  downloadThroughput: (1.6 * 1024 * 1024 * 0.9) / 8,
  uploadThroughput: (750 * 1024 * 0.9) / 8,
};

/** A fresh page that is slowed down; `slow` changes the factor. */
export async function openSlow(browser, { rate = CHROME_4X, network = false, ...settings } = {}) {
  const { context, page } = await browser.open({ ...LOCALE, ...settings });
  const session = await context.newCDPSession(page);
  const slow = (factor) => session.send("Emulation.setCPUThrottlingRate", { rate: factor });
  await slow(rate);
  if (network) {
    await session.send("Network.enable");
    await session.send("Network.emulateNetworkConditions", SLOW_4G);
  }
  return { context, page, slow };
}

/** From a click on a link until the page with that heading has been painted, in milliseconds. What stands in
 * its place while a part of the program is fetched has that heading too, and does not count. */
export function inPage(page, link, title) {
  return page.evaluate(
    ([selector, wanted]) =>
      new Promise((resolve, reject) => {
        const target = document.querySelector(selector);
        if (!target) return void reject(new Error(`no ${selector}`));
        const from = performance.now();
        const look = () => {
          const shown = [...document.querySelectorAll("#app h1")].some((h1) => h1.textContent.trim() === wanted);
          if (!shown || document.querySelector('main [aria-busy="true"]')) return void setTimeout(look);
          requestAnimationFrame(() => setTimeout(() => resolve(performance.now() - from)));
        };
        target.click();
        look();
      }),
    [link, title],
  );
}
