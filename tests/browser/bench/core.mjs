// What Criterion left of its last run: the middle estimate of each bench of the core.

import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";

/** The benches of benches/core.rs; an older run may have left others in the folder. */
const BENCHES = ["parse_10000", "smooth_10000", "season_300", "percentiles_of_one_test"];

/** Milliseconds by the name of the bench. */
export function coreTimes(folder) {
  const file = (name) => join(folder, name, "new/estimates.json");
  const times = BENCHES.filter((name) => existsSync(file(name))).map((name) => {
    const { median } = JSON.parse(readFileSync(file(name), "utf8"));
    return [name, median.point_estimate / 1e6];
  });
  return Object.fromEntries(times);
}
