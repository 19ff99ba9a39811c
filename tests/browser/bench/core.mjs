// What Criterion left of its last run: the middle estimate of each bench of the core.

import { existsSync, readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";

/** Milliseconds by the name of the bench. */
export function coreTimes(folder) {
  if (!existsSync(folder)) return {};
  const names = readdirSync(folder).filter((name) => existsSync(join(folder, name, "new/estimates.json")));
  return Object.fromEntries(
    names.sort().map((name) => {
      const estimates = JSON.parse(readFileSync(join(folder, name, "new/estimates.json"), "utf8"));
      return [name, estimates.median.point_estimate / 1e6];
    }),
  );
}
