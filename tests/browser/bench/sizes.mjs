// What each file weighs, raw and as a host sends it.

import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { brotliCompressSync, constants, gzipSync } from "node:zlib";

/** The same window as the command `brotli --best` uses. */
const BEST = { params: { [constants.BROTLI_PARAM_LGWIN]: 24 } };

/** Every file of a folder with its bytes raw, with Brotli 11 and with gzip 9. */
export function sizes(folder) {
  const names = readdirSync(folder).filter((name) => !name.endsWith(".br"));
  return names.sort().map((name) => {
    const bytes = readFileSync(join(folder, name));
    return {
      name,
      raw: bytes.length,
      brotli: brotliCompressSync(bytes, BEST).length,
      gzip: gzipSync(bytes, { level: 9 }).length,
    };
  });
}

/** The page and the files that it names as needed to start, as the ledger of sizes counts them. */
export function firstLoad(folder) {
  const page = readFileSync(join(folder, "index.html"), "utf8");
  const names = ["index.html"];
  for (const [tag] of page.matchAll(/<(?:script|link) [^>]*>/g)) {
    if (!/rel="(?:stylesheet|modulepreload|preload)"|src=/.test(tag)) continue;
    const [, name] = /="\.\/([^"]+)"/.exec(tag) ?? [];
    if (name) names.push(name);
  }
  return names;
}

/** The sum of some files. */
export function total(files, names) {
  const wanted = files.filter(({ name }) => names.includes(name));
  const sum = (of) => wanted.reduce((all, file) => all + file[of], 0);
  return { raw: sum("raw"), brotli: sum("brotli"), gzip: sum("gzip") };
}
