// Small sums on measured values.

/** How often each time is taken. */
export const RUNS = 5;

/** The middle of an odd number of values. */
export function median(values) {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.floor(sorted.length / 2)];
}
