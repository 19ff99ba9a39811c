// Runs every *.test.mjs of this folder, two at a time, and counts.
//
//   node run.mjs [part of a file name ...]

import { spawn } from "node:child_process";
import { readdirSync } from "node:fs";
import { createInterface } from "node:readline";
import { dirname } from "node:path";
import { fileURLToPath } from "node:url";

const here = dirname(fileURLToPath(import.meta.url));
const wanted = process.argv.slice(2);
const files = readdirSync(here)
  .filter((name) => name.endsWith(".test.mjs"))
  .filter((name) => wanted.length === 0 || wanted.some((part) => name.includes(part)))
  .sort();

// A file that hangs fails after this long instead of holding up all others for ever. It is no bound
// on speed: films looked through without frame times take four minutes on two idle cores, and more
// than ten on busy ones.
const PATIENCE_MS = 2_400_000;

// Each file has a browser and a server of its own. More lanes than cores would only slow all tests.
const LANES = 2;

// One file: its output comes in one piece at its end, and TAP's last lines say how many tests there
// were.
function run(file) {
  return new Promise((resolve) => {
    const count = { passed: 0, failed: 0 };
    const said = [`-- ${file}`];
    const words = ["--test", "--test-reporter=tap", "--test-force-exit"];
    const child = spawn(process.execPath, [...words, `--test-timeout=${PATIENCE_MS}`, file], {
      cwd: here,
      stdio: ["ignore", "pipe", "inherit"],
    });
    createInterface({ input: child.stdout }).on("line", (line) => {
      const [, word, number] = /^# (pass|fail|cancelled|skipped|todo) (\d+)$/.exec(line) ?? [];
      if (word === "pass") count.passed += Number(number);
      // A skipped test proves nothing, so it may not look like success.
      else if (word) count.failed += Number(number);
      else if (/^\s*((not )?ok |# note: )/.test(line)) said.push(line);
      else if (!/^\s*(TAP version|#|\d+\.\.|---|\.\.\.|duration_ms|type:)/.test(line)) said.push(line);
    });
    child.on("close", (code) => {
      if (code !== 0 && count.failed === 0) count.failed += 1;
      console.log(said.join("\n"));
      resolve(count);
    });
  });
}

const total = { passed: 0, failed: 0 };
async function lane() {
  for (let file = files.shift(); file; file = files.shift()) {
    const { passed, failed } = await run(file);
    total.passed += passed;
    total.failed += failed;
  }
}
await Promise.all(Array.from({ length: LANES }, lane));
console.log(`browser tests: ${total.passed} passed, ${total.failed} failed`);
process.exitCode = total.failed > 0 || total.passed === 0 ? 1 : 0;
