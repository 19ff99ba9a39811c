// Lighthouse under its mobile profile: simulated slow 4G, a processor four times slower.

import { execFileSync } from "node:child_process";
import { readFileSync } from "node:fs";
import { join } from "node:path";

import { browserPath, scratch } from "../kit.mjs";
import { median, RUNS } from "./numbers.mjs";

const AUDITS = {
  lcp: "largest-contentful-paint",
  interactive: "interactive",
  tbt: "total-blocking-time",
  cls: "cumulative-layout-shift",
};
const CATEGORIES = ["performance", "accessibility", "best-practices"];

/** Medians over the runs, with the lowest and highest; nothing when Lighthouse is not there. */
export function lighthouse(script, url) {
  if (!script) return undefined;
  const runs = Array.from({ length: RUNS }, () => once(script, url));
  const over = (pick) => {
    const values = runs.map(pick);
    return { median: median(values), low: Math.min(...values), high: Math.max(...values) };
  };
  const result = { version: runs[0].lighthouseVersion, failed: new Set() };
  for (const [name, audit] of Object.entries(AUDITS)) {
    result[name] = over((run) => run.audits[audit].numericValue);
  }
  for (const name of CATEGORIES) {
    result[name] = over((run) => Math.round(run.categories[name].score * 100));
    for (const run of runs) {
      for (const { id, weight } of run.categories[name].auditRefs) {
        const { score } = run.audits[id];
        if (weight > 0 && score !== null && score < 0.9) result.failed.add(id);
      }
    }
  }
  return result;
}

function once(script, url) {
  const place = scratch("two-marks-lighthouse-");
  try {
    const report = join(place.folder, "report.json");
    const root = process.getuid?.() === 0 ? " --no-sandbox" : "";
    const words = [
      script,
      url,
      "--quiet",
      "--output=json",
      `--output-path=${report}`,
      `--only-categories=${CATEGORIES.join(",")}`,
      `--chrome-flags=--headless=new --disable-background-networking${root}`,
    ];
    const env = { ...process.env, CHROME_PATH: browserPath() };
    execFileSync(process.execPath, words, { env, stdio: ["ignore", "ignore", "inherit"] });
    const run = JSON.parse(readFileSync(report, "utf8"));
    if (run.runtimeError) throw new Error(run.runtimeError.message);
    return run;
  } finally {
    place.release();
  }
}
