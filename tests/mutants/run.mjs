// Mutation testing by hand (docs/mutants.md): all mutants in one build, each run in its own process.
//
//   node tests/mutants/run.mjs DIR          weaves, builds, looks which test reaches what, runs all; goes
//                                           on where it was stopped
//   node tests/mutants/run.mjs DIR NAME...  runs again only mutants whose name holds one of these texts
//
// DIR is a folder for the copy of the tree, the build and the results (results.tsv: number, what caught it,
// the test, the mutant; the last line of a mutant counts). Changed code or tests want a new DIR. It needs cargo-mutants, which
// lists the mutants and does nothing else here. Each function gets a copy of its body per mutant; the
// variable MUTANT of the environment chooses one. A `const fn` cannot read it: `const` is taken away
// where nothing that is computed at compile time needs it, and elsewhere one build per mutant chooses.

import { execFileSync, spawn, spawnSync } from "node:child_process";
import { appendFileSync, cpSync, existsSync, mkdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { dirname, join, resolve } from "node:path";

const ROOMS = ["measure", "reliability", "norms", "trend"];
// It starts a program of its own, which may be built first.
const OTHER = /^evaluate::the_program_/;
const SLOW_MS = 1500;
const LIMIT_S = 20;
const AT_ONCE = 2;

const root = resolve(import.meta.dirname, "../..");
const work = resolve(process.argv[2]);
const wanted = process.argv.slice(3);
const tree = join(work, "tree");
// For what is computed at compile time: only those functions are woven in these copies, and the small one
// has no room below the four and no cases but those about figures, so that it is built sooner.
const small = join(work, "small");
const whole = join(work, "whole");
const results = join(work, "results.tsv");
// Two trees of one package may not share a folder: their programs have the same names.
const target = (tree) => `${tree}-target`;
const environment = {
  ...process.env,
  CARGO_PROFILE_TEST_DEBUG: "0",
  CARGO_PROFILE_TEST_OPT_LEVEL: "1",
  CARGO_PROFILE_DEV_DEBUG: "0",
  // Where tests look for files beside them.
  CARGO_MANIFEST_DIR: tree,
  PROPTEST_DISABLE_FAILURE_PERSISTENCE: "true",
  RUST_BACKTRACE: "0",
};

const CHOOSER = `//! Which mutant runs; written by tests/mutants/run.mjs.
use std::io::Write;
use std::sync::OnceLock;
use std::sync::atomic::{AtomicBool, Ordering};

/// The mutant of this build, for what is computed at compile time.
pub const BUILT: u32 = number(option_env!("MUTANT_BUILT"));

const fn number(text: Option<&str>) -> u32 {
    let Some(text) = text else { return 0 };
    let (mut value, mut at) = (0, 0);
    while at < text.len() {
        value = value * 10 + (text.as_bytes()[at] - b'0') as u32;
        at += 1;
    }
    value
}

static CHOSEN: OnceLock<u32> = OnceLock::new();
static SEEN: [AtomicBool; 8192] = [const { AtomicBool::new(false) }; 8192];

/// The mutant of this process; notes that a function was reached when asked to.
pub fn chosen(function: u32) -> u32 {
    let chosen = *CHOSEN.get_or_init(|| {
        let chosen = std::env::var("MUTANT").map_or(0, |text| text.parse().unwrap_or(u32::MAX));
        if chosen != 0 && chosen != u32::MAX {
            std::panic::set_hook(Box::new(|info| {
                // The tests of that file look for panics.
                if !info.location().is_some_and(|at| at.file().ends_with("norms/table.rs")) {
                    std::process::exit(101);
                }
            }));
        }
        chosen
    });
    if chosen == u32::MAX && !SEEN[function as usize].swap(true, Ordering::Relaxed) {
        let path = std::env::var("MUTANT_SEEN").unwrap();
        let mut file = std::fs::OpenOptions::new().append(true).create(true).open(path).unwrap();
        writeln!(file, "{function}").unwrap();
    }
    chosen
}
`;

function listed() {
  const files = ROOMS.flatMap((room) => ["--file", `src/${room}/**`]);
  const text = execFileSync("cargo", ["mutants", "--list", "--json", ...files], { cwd: root, maxBuffer: 1 << 28 });
  return JSON.parse(text).map((mutant, at) => ({ ...mutant, id: at + 1 }));
}

/** Where a line and column lie in a text, both counted from 1 and columns in characters. */
function offsets(text) {
  const lines = text.split("\n");
  const starts = [];
  let start = 0;
  for (const line of lines) {
    starts.push(start);
    start += line.length + 1;
  }
  return ({ line, column }) =>
    starts[line - 1] + [...lines[line - 1]].slice(0, column - 1).join("").length;
}

/** The functions of a file that have mutants, outermost only, with the places of their bodies. */
function functions(text, mutants) {
  const at = offsets(text);
  const found = new Map();
  for (const mutant of mutants) {
    const { span } = mutant.function;
    const key = `${span.start.line}:${span.start.column}`;
    const entry = found.get(key) ?? { start: at(span.start), end: at(span.end), mutants: [] };
    const name = mutant.function.function_name.split("::").at(-1).replace(/<.*/, "");
    entry.name = name;
    entry.mutants.push({ ...mutant, from: at(mutant.span.start), to: at(mutant.span.end) });
    found.set(key, entry);
  }
  const all = [...found.values()].sort((a, b) => a.start - b.start || b.end - a.end);
  const outer = [];
  for (const entry of all) {
    const last = outer.at(-1);
    if (last && entry.end <= last.end) last.mutants.push(...entry.mutants);
    else outer.push(entry);
  }
  for (const entry of outer) {
    entry.word = entry.start + text.slice(entry.start, entry.end).search(new RegExp(`\\bfn\\s+${entry.name}\\b`));
    let depth = 0;
    let open = entry.word;
    while (!(depth === 0 && text[open] === "{")) {
      if ("([".includes(text[open])) depth += 1;
      if (")]".includes(text[open])) depth -= 1;
      open += 1;
    }
    entry.open = open;
    const signature = text.slice(entry.word, open);
    entry.iterator = signature.match(/->\s*impl\s+(Iterator<[\s\S]*>)/)?.[1].trim();
    const before = text.slice(text.lastIndexOf("\n", entry.word) + 1, entry.word);
    const constant = before.match(/\bconst\s+$/);
    entry.constant = constant ? entry.word - constant[0].length : undefined;
  }
  return outer;
}

/** The text of a file with every mutant of it beside the untouched bodies. */
function woven(text, entries, dropped, evaluated) {
  let out = text;
  for (const entry of [...entries].reverse()) {
    const mutants = entry.mutants.filter((mutant) => !dropped.has(mutant.id));
    if (mutants.length === 0) continue;
    const boxed = (body) =>
      entry.iterator ? `Box::new(${body}) as Box<dyn ${entry.iterator.replace(/\s*\+\s*'_/, "")} + '_>` : body;
    const arms = mutants.map(({ id, from, to, replacement }) => {
      const body = text.slice(entry.open, from) + replacement + text.slice(to, entry.end);
      return `${id} => /*<${id}*/ ${boxed(body)} /*${id}>*/,\n`;
    });
    const first = entry.mutants[0].id;
    const which = evaluated.has(first) ? "crate::mutant::BUILT" : `crate::mutant::chosen(${first})`;
    const body = `{ match ${which} {\n${arms.join("")}_ => ${boxed(text.slice(entry.open, entry.end))},\n} }`;
    out = out.slice(0, entry.open) + body + out.slice(entry.end);
    if (entry.constant !== undefined && !evaluated.has(first)) {
      out = out.slice(0, entry.constant) + out.slice(entry.word);
    }
  }
  return out;
}

function copyTree(tree) {
  rmSync(tree, { recursive: true, force: true });
  const names = execFileSync("git", ["ls-files"], { cwd: root }).toString().trim().split("\n");
  for (const name of names) {
    mkdirSync(dirname(join(tree, name)), { recursive: true });
    cpSync(join(root, name), join(tree, name));
  }
  // Warnings are no errors in mutants.
  const manifest = readFileSync(join(tree, "Cargo.toml"), "utf8");
  writeFileSync(join(tree, "Cargo.toml"), manifest.replace(/\[lints\]\nworkspace = true\n/, ""));
  const lib = readFileSync(join(tree, "src/lib.rs"), "utf8");
  const allowed = "#![allow(warnings, arithmetic_overflow, unconditional_panic)]\n#[doc(hidden)] pub mod mutant;\n";
  writeFileSync(join(tree, "src/lib.rs"), lib.replace("#![warn(missing_docs)]\n", allowed));
  writeFileSync(join(tree, "src/mutant.rs"), CHOOSER);
}

/** The files that have mutants, with their functions. */
function read(mutants) {
  return [...new Set(mutants.map(({ file }) => file))].map((file) => {
    const text = readFileSync(join(root, file), "utf8");
    return { file, text, entries: functions(text, mutants.filter((mutant) => mutant.file === file)) };
  });
}

/** The functions that an error wants to be `const`, since something computed at compile time calls them. */
function calledFrom(error, files) {
  if (error.code?.code !== "E0015") return [];
  const path = (error.message.match(/`([^`]+)`/)?.[1] ?? "").replace(/<.*>/, "").split("::");
  const module = path.slice(0, -1).findLast((part) => /^[a-z]/.test(part));
  const named = files.flatMap(({ file, entries }) => entries
    .filter((entry) => entry.constant !== undefined && entry.name === path.at(-1))
    .map((entry) => ({ file, entry })));
  const near = named.filter(({ file }) =>
    module ? file.endsWith(`/${module}.rs`) : error.spans.some((span) => span.file_name === file));
  return (near.length > 0 ? near : named).map(({ entry }) => entry);
}

/** Weaves and checks until everything compiles; says which mutants do not, and which are for a build of their own. */
function weave(mutants) {
  copyTree(tree);
  const files = read(mutants);
  const [dropped, evaluated] = [new Map(), new Set()];
  for (;;) {
    const ranges = new Map();
    for (const { file, text, entries } of files) {
      const out = woven(text, entries, dropped, evaluated);
      writeFileSync(join(tree, file), out);
      const own = [];
      out.split("\n").forEach((line, at) => {
        for (const [, id] of line.matchAll(/\/\*<(\d+)\*\//g)) own.push({ id: Number(id), from: at + 1 });
        for (const [, id] of line.matchAll(/\/\*(\d+)>\*\//g)) own.find((r) => r.id === Number(id)).to = at + 1;
      });
      ranges.set(file, own);
    }
    const check = spawnSync("cargo", ["check", "--lib", "--tests", "--message-format", "json"], {
      cwd: tree, env: { ...environment, CARGO_TARGET_DIR: target(tree) }, maxBuffer: 1 << 30,
    });
    if (check.status === 0) break;
    const errors = check.stdout.toString().split("\n").filter((line) => line.startsWith("{"))
      .map((line) => JSON.parse(line)).filter((said) => said.message?.level === "error").map((said) => said.message);
    const before = dropped.size + evaluated.size;
    for (const error of errors) {
      const owners = calledFrom(error, files);
      owners.forEach((entry) => evaluated.add(entry.mutants[0].id));
      if (owners.length > 0) continue;
      const primary = error.spans.filter((span) => span.is_primary);
      for (const span of primary.length > 0 ? primary : error.spans) {
        const hit = ranges.get(span.file_name)?.find((r) => r.from <= span.line_start && span.line_end <= r.to);
        if (hit) dropped.set(hit.id, error.message);
      }
    }
    console.log(`${errors.length} errors; ${dropped.size} do not compile, ${evaluated.size} functions need a build a mutant`);
    if (dropped.size + evaluated.size === before) {
      console.log(errors.map((error) => error.rendered).join("\n"));
      throw new Error("the woven tree does not compile");
    }
  }
  const alone = new Set(files.flatMap(({ entries }) => entries)
    .filter((entry) => evaluated.has(entry.mutants[0].id))
    .flatMap((entry) => entry.mutants.map((mutant) => mutant.id)).filter((id) => !dropped.has(id)));
  const first = {};
  for (const entry of files.flatMap(({ entries }) => entries)) {
    for (const mutant of entry.mutants) first[mutant.id] = entry.mutants[0].id;
  }
  return { dropped: Object.fromEntries(dropped), alone: [...alone], first };
}

/** Builds the tests; the paths of the units' and the cases' programs. */
function built(tree, which, more = {}) {
  const build = spawnSync("cargo", ["test", ...which, "--no-run", "--message-format", "json"], {
    cwd: tree, env: { ...environment, CARGO_TARGET_DIR: target(tree), ...more }, maxBuffer: 1 << 30, stdio: ["ignore", "pipe", "pipe"],
  });
  if (build.status !== 0) return undefined;
  const programs = {};
  for (const line of build.stdout.toString().split("\n").filter((text) => text.startsWith("{"))) {
    const said = JSON.parse(line);
    if (said.executable && said.profile?.test) programs[said.target.kind[0] === "lib" ? "units" : "cases"] = said.executable;
  }
  return programs;
}

function run(program, tests, mutant, limitS, more = {}) {
  return new Promise((done) => {
    const started = Date.now();
    const child = spawn(program, ["--exact", "--test-threads=1", ...tests], {
      cwd: tree, env: { ...environment, MUTANT: String(mutant), ...more }, stdio: ["ignore", "pipe", "ignore"],
    });
    let said = "";
    child.stdout.on("data", (data) => { said += data; });
    let late = false;
    const timer = setTimeout(() => { late = true; child.kill("SIGKILL"); }, limitS * 1000);
    child.on("close", (code) => {
      clearTimeout(timer);
      // One thread names each test before it runs it.
      const failed = said.match(/^test (\S+)(?: - should panic)? \.\.\. (?:FAILED)?$/m)?.[1];
      const by = late ? `time, in ${failed}` : failed ?? `code ${code}`;
      done({ passed: code === 0 && !late, by, ms: Date.now() - started });
    });
  });
}

async function together(jobs, each) {
  let next = 0;
  const worker = async () => {
    while (next < jobs.length) await each(jobs[next++]);
  };
  await Promise.all(Array.from({ length: AT_ONCE }, worker));
}

/** For each test its time and the functions that it reaches. */
async function reach(programs) {
  const tests = [];
  for (const [kind, program] of Object.entries(programs)) {
    const list = execFileSync(program, ["--list", "--format", "terse"], { cwd: tree }).toString();
    for (const [, name] of list.matchAll(/^(.*): test$/gm)) if (!OTHER.test(name) || kind === "units") tests.push({ kind, name });
  }
  await together(tests, async (test) => {
    const path = join(work, `seen-${process.pid}-${test.kind}-${test.name.replaceAll(":", "_")}`);
    const { passed, ms } = await run(programs[test.kind], [test.name], "seen", 600, { MUTANT_SEEN: path });
    if (!passed) console.log(`left out, since it fails without a mutant: ${test.name}`);
    test.reached = passed && existsSync(path) ? readFileSync(path, "utf8").trim().split("\n").map(Number) : [];
    test.ms = ms;
    rmSync(path, { force: true });
  });
  return tests;
}

async function runAll(mutants, state, programs, tests) {
  const left = mutants.filter(({ id }) => !state.dropped[id] && !state.alone.includes(id));
  await together(left, async (mutant) => {
    const reaching = tests.filter((test) => test.reached.includes(state.first[mutant.id]));
    const stages = [
      ["units", reaching.filter((test) => test.kind === "units")],
      ["cases", reaching.filter((test) => test.kind === "cases" && test.ms < SLOW_MS)],
      ["cases", reaching.filter((test) => test.kind === "cases" && test.ms >= SLOW_MS)],
    ];
    let outcome = reaching.length === 0 ? ["unreached", ""] : ["alive", ""];
    for (const [kind, own] of stages) {
      if (own.length === 0) continue;
      const usual = own.reduce((sum, test) => sum + test.ms, 0) / 1000;
      const { passed, by } = await run(programs[kind], own.map((test) => test.name), mutant.id, LIMIT_S + 4 * usual);
      if (!passed) {
        outcome = [kind, by];
        break;
      }
    }
    note(mutant, outcome);
  });
}

/** Builds each mutant of what is computed at compile time; one that stops the build is caught by it. */
async function runAlone(mutants, state, tests) {
  const own = new Set(state.alone);
  const left = mutants.filter(({ id, name }) => own.has(id) && isWanted(id, name));
  if (left.length === 0) return;
  for (const tree of [small, whole]) {
    copyTree(tree);
    for (const { file, text, entries } of read(mutants)) {
      const evaluated = entries.filter((entry) => entry.mutants.some(({ id }) => own.has(id)));
      const others = entries.flatMap((entry) => entry.mutants).filter(({ id }) => !own.has(id));
      const firsts = evaluated.map((entry) => entry.mutants[0].id);
      writeFileSync(join(tree, file), woven(text, evaluated, new Set(others.map(({ id }) => id)), new Set(firsts)));
    }
  }
  writeFileSync(join(small, "tests/it/main.rs"), "mod published;\nmod oracles;\n");
  const lib = join(small, "src/lib.rs");
  writeFileSync(lib, readFileSync(lib, "utf8").replace(/(pub mod trend;\n)[\s\S]*/, "$1"));
  const stages = [small, whole].flatMap((tree) => [[tree, "units", ["--lib"]], [tree, "cases", ["--test", "it"]]]);
  const passes = async ([tree, kind, which], id) => {
    const programs = built(tree, which, { MUTANT_BUILT: String(id), CARGO_PROFILE_TEST_OPT_LEVEL: "0" });
    if (!programs) return { kind: "build", by: "" };
    const names = tests.filter((test) => test.kind === kind && test.ms < SLOW_MS).map(({ name }) => name);
    const { passed, by } = await run(programs[kind], names, 0, 300);
    return passed ? undefined : { kind, by };
  };
  const sound = new Set();
  for (const mutant of left) {
    let caught;
    for (const stage of stages) {
      if (!sound.has(stage)) {
        const fault = await passes(stage, 0);
        if (fault) throw new Error(`without a mutant: ${fault.kind} ${fault.by}`);
        sound.add(stage);
      }
      caught = await passes(stage, mutant.id);
      if (caught) break;
    }
    note(mutant, caught ? [caught.kind, caught.by] : ["alive", ""]);
  }
}

function note(mutant, outcome) {
  appendFileSync(results, `${mutant.id}\t${outcome.join("\t")}\t${mutant.name}\n`);
}

/** How many mutants of each room came to what. */
function counted(mutants, state) {
  const lines = readFileSync(results, "utf8").trim().split("\n").map((line) => line.split("\t"));
  const outcomes = new Map(lines.map(([id, outcome]) => [Number(id), outcome]));
  const table = {};
  for (const { id, file } of mutants) {
    const row = table[file.split("/")[1]] ??= { mutants: 0 };
    const outcome = state.dropped[id] ? "does not compile" : outcomes.get(id) ?? "not run";
    row.mutants += 1;
    row[outcome] = (row[outcome] ?? 0) + 1;
  }
  return table;
}

const done = new Set(existsSync(results) ? readFileSync(results, "utf8").split("\n").map((line) => parseInt(line)) : []);
const isWanted = (id, name) => wanted.length > 0 ? wanted.some((part) => name.includes(part)) : !done.has(id);

const kept = (name, make) => {
  const path = join(work, name);
  if (existsSync(path)) return JSON.parse(readFileSync(path, "utf8"));
  const made = make();
  writeFileSync(path, JSON.stringify(made));
  return made;
};

mkdirSync(work, { recursive: true });
const mutants = kept("mutants.json", listed);
const state = kept("woven.json", () => weave(mutants));
console.log(`${mutants.length} mutants, ${Object.keys(state.dropped).length} do not compile, ${state.alone.length} are for a build each`);
const programs = kept("programs.json", () => built(tree, ["--lib", "--test", "it"]));
if (!existsSync(join(work, "tests.json"))) writeFileSync(join(work, "tests.json"), JSON.stringify(await reach(programs)));
const tests = kept("tests.json");
await runAll(mutants.filter(({ id, name }) => isWanted(id, name)), state, programs, tests);
await runAlone(mutants, state, tests);
console.table(counted(mutants, state));
