// Draws the PNG icons of public/ from our own two SVG files, by hand when those change:
//
//   node tests/browser/icons.mjs

import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";

import { root, startBrowser } from "./kit.mjs";

/** File, side in pixels, and the drawing: what a system cuts to its own shape needs the full square. */
export const ICONS = [
  ["icon-192.png", 192, "icon.svg"],
  ["icon-512.png", 512, "icon.svg"],
  ["icon-mask-512.png", 512, "icon-mask.svg"],
  ["icon-touch-180.png", 180, "icon-mask.svg"],
];

if (process.argv[1] === new URL(import.meta.url).pathname) {
  const browser = await startBrowser();
  for (const [name, side, drawing] of ICONS) {
    const { context, page } = await browser.open({ viewport: { width: side, height: side } });
    const svg = readFileSync(join(root, "public", drawing)).toString("base64");
    await page.setContent(
      `<style>body{margin:0}img{display:block;width:${side}px}</style><img src="data:image/svg+xml;base64,${svg}">`,
    );
    writeFileSync(join(root, "public", name), await page.screenshot({ omitBackground: true }));
    await context.close();
  }
  await browser.stop();
}
