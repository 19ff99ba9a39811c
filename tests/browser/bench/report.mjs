// The table of docs/speed.md.

import { cpus, loadavg, totalmem } from "node:os";
import { total } from "./sizes.mjs";

const kb = (bytes) => `${(bytes / 1000).toFixed(1)} kB`;
const ms = (value) => `${value < 10 ? value.toFixed(value < 1 ? 3 : 1) : Math.round(value)} ms`;
const plain = (value) => String(Math.round(value * 1000) / 1000);
const NOT = "not measured";

/** A row: what, the page, the floor, the target with its verdict. */
function row(name, page, floor, form, most, atLeast = false) {
  const value = (one) => one?.median ?? one;
  const range = (one) => (one?.low === undefined ? "" : ` (${form(one.low)} – ${form(one.high)})`);
  const told = (one) => (value(one) === undefined ? NOT : `${form(value(one))}${range(one)}`);
  const both = value(page) !== undefined && value(floor) > 0;
  const ratio = both ? (value(page) / value(floor)).toFixed(1) : "";
  const met = atLeast ? value(page) >= most : value(page) <= most;
  const verdict = most === undefined || value(page) === undefined ? "" : met ? "met" : "**missed**";
  const target = most === undefined ? "" : `${atLeast ? "≥" : "≤"} ${form(most)}`;
  return `| ${name} | ${told(page)} | ${floor === null ? "" : told(floor)} | ${ratio} | ${target} | ${verdict} |`;
}

function lines(result) {
  const { page, floor } = result;
  const sum = (one) => total(one.files, one.first);
  const index = (one) => one.files.find(({ name }) => name === "index.html");
  const [lh, floorLh] = [page.lighthouse, floor.lighthouse];
  return [
    row("first load, Brotli", sum(page).brotli, sum(floor).brotli, kb, 150_000),
    row("first load, gzip", sum(page).gzip, sum(floor).gzip, kb, 175_000),
    row("index.html, Brotli", index(page).brotli, index(floor).brotli, kb, 14_000),
    row("Lighthouse: largest paint (LCP)", lh?.lcp, floorLh?.lcp, ms, 1200),
    row("Lighthouse: interactive", lh?.interactive, floorLh?.interactive, ms, 1800),
    row("Lighthouse: blocked (TBT)", lh?.tbt, floorLh?.tbt, ms, 100),
    row("Lighthouse: shift (CLS)", lh?.cls, floorLh?.cls, plain, 0.01),
    row("Lighthouse: performance", lh?.performance, floorLh?.performance, plain, 98, true),
    row("Lighthouse: accessibility", lh?.accessibility, floorLh?.accessibility, plain, 100, true),
    row("Lighthouse: best practices", lh?.["best-practices"], floorLh?.["best-practices"], plain, 100, true),
    row("first tap handled, slow 4G", page.firstTap, floor.firstTap, ms, 1800),
    row("the page it leads to is there, slow 4G", page.firstTap?.shown, null, ms),
    row("worst interaction of a whole test", result.interaction, null, ms, 100),
    row("offline start, server stopped", result.offline, null, ms, 800),
    row("opening a season of 300 tests", result.season, null, ms, 150),
    row("saving a test: our own work in the tap", result.save?.work, null, ms, 50),
    row("saving a test: until \"saved\" is shown, disk included", result.save?.shown, null, ms),
    row("saving a test: written to store and journal", units(result.save), null, kb, 20_000),
    row("opening a class of 40", result.table, null, ms),
  ];
}

const units = (save) => save && save.store + save.journal;

function files({ page }) {
  return page.files.map(({ name, raw, brotli, gzip }) => {
    const short = name.replace(/-[0-9a-f]{16}/, "-…");
    return `| ${short} | ${raw} | ${brotli} | ${gzip} | ${page.first.includes(name) ? "yes" : ""} |`;
  });
}

function core({ core: times }) {
  return Object.entries(times).map(([name, time]) => `| \`${name}\` | ${ms(time)} |`);
}

/** A table of the lines that store.mjs measured. */
function stored(lines) {
  if (!lines) return "Not measured in this run.";
  const form = {
    ms,
    count: (value) => Math.round(value).toLocaleString("en"),
    bytes: (value) => `${(value / 1e6).toFixed(2)} MB`,
  };
  const rows = lines.map(({ what, kind, value }) => {
    const { median = value, low, high } = value;
    const range = low === undefined ? "" : ` (${form[kind](low)} – ${form[kind](high)})`;
    return `| ${what} | ${form[kind](median)}${range} |`;
  });
  return ["| what | value |", "| --- | --- |", ...rows].join("\n");
}

/** The whole document. */
export function document(result) {
  const { model } = cpus()[0];
  const machine = `${cpus().length} cores (${model.trim()}), ${Math.round(totalmem() / 2 ** 30)} GiB of memory`;
  const lighthouse = result.page.lighthouse;
  const { worst, counted } = result.interaction ?? {};
  return `# Speed

Written by \`cargo xtask bench\`; measured anew, not edited. Times are medians of five with the
lowest and the highest; they differ from machine to machine, so no check judges them.

- Day: ${new Date().toISOString().slice(0, 10)}
- Machine: ${machine}
- Browser: Chromium ${result.browserVersion}, headless
- Lighthouse: ${lighthouse ? `${lighthouse.version}, its mobile profile (simulated slow 4G, processor 4 times slower)` : "not run"}
- All times in the page are with the processor 4 times slower. The "first tap" comes over a line
  slowed to slow 4G in the browser itself, which is slower than Lighthouse's simulation.
- Load of the machine over the last quarter of an hour, at the end: ${loadavg()[2].toFixed(1)}
- Floor: the framework with one field, one button and one list, built in the same run with the same
  settings (\`tests/browser/bench/floor/\`). Ratio: the page over the floor.

| what | page | floor | ratio | target | |
| --- | --- | --- | --- | --- | --- |
${lines(result).join("\n")}

${worst?.what ? `The slowest interaction was \`${worst.name}\` on "${worst.what}": ${worst.duration} ms; ${counted} events took 16 ms or more in the last run.\n` : ""}${result.offline ? `Requests that failed while starting offline: ${result.offline.failed.join(", ") || "none"}.\n` : ""}${lighthouse ? `Lighthouse marks down: ${[...lighthouse.failed].sort().join(", ") || "nothing"}.\n` : ""}
## Files, bytes

| file | raw | Brotli | gzip | first load |
| --- | --- | --- | --- | --- |
${files(result).join("\n")}

## The core, on this machine without a browser

Criterion's middle estimates, with the release profile (made for size). The whole story of a season
looks back from every test, so its time grows with the square of their number.

| bench | time |
| --- | --- |
${core(result).join("\n")}

## A store of 10,000 tests

A hundred invented people with a hundred tests each, beside one person's own first test; the browser's
quota for the store is about 5 million units. A list shows at most 60 tests at a time.

${stored(result.store)}
`;
}
