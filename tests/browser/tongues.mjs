// Walks in other languages: the names that a walk looks for are translated by the catalogues, and a
// made-up language shows what no catalogue has said.

import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import assert from "node:assert/strict";
import { dist, root } from "./kit.mjs";

const text = join(root, "src", "text");

/** The tags of all languages that the built page names, with their files. */
export function packs() {
  const page = readFileSync(join(dist, "index.html"), "utf8");
  const [, line] = /<meta name="languages" content="([^"]*)"/.exec(page) ?? [];
  const pairs = (line ?? "").split(" ").map((pair) => pair.split("="));
  assert.ok(pairs.length >= 5 && pairs.every(([, file]) => file), "the page names its languages");
  return new Map(pairs);
}

/** The messages of a language in order: id, names of arguments, forms by category. */
export function catalogue(tag) {
  const files = readdirSync(join(text, tag)).filter((name) => name.endsWith(".txt")).sort();
  const messages = [];
  for (const file of files) {
    for (const line of readFileSync(join(text, tag, file), "utf8").split("\n")) {
      if (!line.trim() || line.startsWith("#")) continue;
      const [, left, , template] = /^(.*?)( = (.*))?$/.exec(line);
      if (line.startsWith("  ")) {
        messages.at(-1).forms.push([left.trim(), template]);
        continue;
      }
      const [, id, list] = /^(\w+)(?: \((.*)\))?$/.exec(left);
      const names = (list ?? "").split(", ").filter(Boolean).map((one) => one.split(":")[0]);
      messages.push({ id, names, forms: template === undefined ? [] : [["other", template]] });
    }
  }
  return messages;
}

/** The words of the pages outside the program in a language, by their names. */
export const outside = (tag) =>
  Object.fromEntries(catalogue(join(tag, "outside")).map(({ id, forms: [[, said]] }) => [id, said]));

const ACCENTS = { a: "á", e: "é", i: "í", o: "ó", u: "ú", A: "Á", E: "É", I: "Í", O: "Ó", U: "Ú" };

/**
 * A template in the made-up language: in brackets, with every vowel accented and twice, which
 * makes a text some 40 % longer and leaves no word as English has it.
 */
export function lengthened(template) {
  const parts = template.split(/(\{\w+\})/);
  const vowels = (part) => part.replace(/[aeiou]/gi, (sign) => ACCENTS[sign] + ACCENTS[sign].toLowerCase());
  return `[${parts.map((part) => (part.startsWith("{") ? part : vowels(part))).join("")}]`;
}

/** The made-up language as messages. */
export function madeUp() {
  const all = (forms) => forms.map(([category, template]) => [category, lengthened(template)]);
  return catalogue("en").map((message) => ({ ...message, forms: all(message.forms) }));
}

/** The same as a pack, in the form that the build gives to a language. */
export function madeUpPack({ rtl = false } = {}) {
  const [file] = packs().values();
  const head = readFileSync(join(dist, file), "utf8").split("\n")[0];
  const lines = madeUp().map(({ names, forms }) => {
    const numbered = (template) =>
      names.reduce((all, name, at) => all.replaceAll(`{${name}}`, `{${at}}`), template);
    const other = forms.find(([category]) => category === "other")[1];
    const more = forms.filter(([category]) => category !== "other");
    return numbered(other) + more.map(([category, its]) => `\t${category}=${numbered(its)}`).join("");
  });
  return [head.replace("ltr", rtl ? "rtl" : "ltr"), ...lines, "end", ""].join("\n");
}

const escaped = (words) => words.replace(/[.*+?^${}()|[\]\\]/g, "\\$&");
const asPattern = (template) => template.split(/\{\w+\}/).map(escaped).join(".*");

/** Turns what a walk looks for in English into what it must look for in another language. */
export function translator(messages) {
  const english = catalogue("en");
  const own = new Map(messages.map((message) => [message.id, message]));
  const templates = english.flatMap(({ id, forms }) => forms.map(([, template]) => [id, template]));
  // Longest first, as a shorter one may be a part of it.
  const patterns = (ids) => {
    const all = ids.flatMap((id) => own.get(id).forms.map(([, template]) => asPattern(template)));
    return [...new Set(all)].sort((one, other) => other.length - one.length).join("|");
  };
  return (name, exact) => {
    if (name === undefined) return name;
    if (typeof name === "string") {
      const same = templates.filter(([, template]) => template === name).map(([id]) => id);
      if (same.length > 0) {
        const any = `(?:${patterns(same)})`;
        return new RegExp(exact ? `^\\s*${any}\\s*$` : any);
      }
    }
    const source = name instanceof RegExp ? name.source.replace(/^\^|\$$/g, "") : escaped(name);
    const needle = new RegExp(source.replace(/\d+/g, "(?:\\d+|\\{\\w+\\})"));
    const near = templates.filter(([, template]) => needle.test(template)).map(([id]) => id);
    return near.length > 0 ? new RegExp(patterns(near)) : name;
  };
}

/** Lets a walk find things in a page of another language by their English names. */
export function speak(page, translate) {
  const heard = (options = {}) => ({ ...options, name: translate(options.name, options.exact) });
  const teach = (finder) => {
    const { getByRole, getByText, getByLabel, locator } = finder;
    return Object.assign(finder, {
      getByRole: (role, options) => getByRole.call(finder, role, heard(options)),
      getByText: (words, options) => getByText.call(finder, translate(words, options?.exact)),
      getByLabel: (words) => getByLabel.call(finder, translate(words)),
      locator: (...what) => teach(locator.apply(finder, what)),
    });
  };
  return teach(page);
}

/**
 * In the page: what is wider than the screen or its own box, and every word and the title, with all
 * that can be opened open. Words for readers only are clipped on purpose.
 */
export function look() {
  const wrong = [];
  const closed = [...document.querySelectorAll("#app details:not([open])")];
  for (const part of closed) part.open = true;
  if (document.documentElement.scrollWidth > innerWidth) {
    const wide = [...document.querySelectorAll("#app *")].filter((element) => {
      const { left, right, width } = element.getBoundingClientRect();
      return width > 0 && (right > innerWidth + 1 || left < -1) && !element.closest(".hidden-words, .skip");
    });
    const inner = wide.filter((element) => !wide.some((other) => other !== element && element.contains(other)));
    const said = inner.slice(0, 3).map((element) => element.outerHTML.slice(0, 120));
    wrong.push(`${document.documentElement.scrollWidth} px on ${innerWidth}: ${said.join(" ; ")}`);
  }
  const held = "button, .btn, summary, label, legend, .chip, .tag, [role=radio], h1, h2, h3, th, td, dt, dd, p, li";
  for (const element of document.querySelectorAll(held)) {
    if (element.closest(".hidden-words, .skip, [hidden], svg") || element.clientWidth === 0) continue;
    const style = getComputedStyle(element);
    if (style.display.startsWith("inline") && style.display === "inline") continue;
    const clips = style.overflowX !== "visible" || element.matches("button, .btn, .chip, [role=radio], summary");
    if (style.overflowX === "auto" || style.overflowX === "scroll") continue;
    const isOver = element.scrollWidth > element.clientWidth + 1;
    const isLow = element.scrollHeight > element.clientHeight + 2 && style.overflowY === "hidden";
    if ((clips && isOver) || isLow) {
      wrong.push(`clipped: ${element.outerHTML.replace(/<svg.*?<\/svg>/gs, "").slice(0, 160)}`);
    }
  }
  const texts = [document.title];
  const walker = document.createTreeWalker(document.querySelector("#app"), NodeFilter.SHOW_TEXT);
  while (walker.nextNode()) {
    const parent = walker.currentNode.parentElement;
    if (parent.closest("script, style, [hidden]") || !parent.checkVisibility()) continue;
    // What is marked as being in a language of its own: names of languages and their notes.
    if (parent.closest("[lang]") !== document.documentElement) continue;
    texts.push(walker.currentNode.textContent.trim());
  }
  for (const element of document.querySelectorAll("#app [aria-label], #app [placeholder], #app [alt]")) {
    texts.push(...["aria-label", "placeholder", "alt"].map((name) => element.getAttribute(name) ?? ""));
  }
  for (const part of closed) part.open = false;
  return { wrong, texts: texts.filter(Boolean) };
}

/** A text of the program in Rust, with its continued lines put together. */
const written = (file) => readFileSync(join(root, "src", file), "utf8").replace(/\\\n\s*/g, "");

/** What the core names as it was published, from its own lists: whoever looks a source up needs that. */
function published() {
  const tables = readdirSync(join(root, "src", "norms", "tables")).map((name) => `norms/tables/${name}`);
  const lists = [...tables, "norms/left_out.rs", "norms/approach.rs", "assess/touch.rs"];
  const found = lists.flatMap((file) => [...written(file).matchAll(/"([^"\n]*)"/g)]);
  const texts = found.map(([, words]) => words).filter((words) => words.length > 5 && /[ ./]/.test(words));
  assert.ok(texts.length > 60, "the lists of sources were not read");
  return texts.sort((one, other) => other.length - one.length);
}

/** The words of dates in a language: the browser writes them. */
function datesIn(tag) {
  const days = [...Array(365).keys()].map((at) => new Date(2026, 0, 1 + at));
  const forms = ["long", "short"].map(
    (form) => new Intl.DateTimeFormat(tag, { weekday: form, day: "numeric", month: form, year: "numeric" }),
  );
  const texts = forms.flatMap((form) => days.map((day) => form.format(day)));
  return texts.flatMap((text) => text.match(/\p{L}+/gu));
}

/** The languages' names and notes, which are in themselves in every language. */
function namesOfLanguages() {
  const lines = readFileSync(join(text, "languages.txt"), "utf8").split("\n");
  const own = lines.flatMap((line) => /^[\w-]+ = ([^|]*\|[^|]*)\|/.exec(line)?.[1] ?? []);
  assert.ok(own.length >= 5, "the list of languages was not read");
  return own.join(" ").match(/\p{L}+/gu);
}

/** Names that a person typed on a walk, or that came with a file. */
const TYPED = ["Ada", "Mio", "Class 8B", "Class 7A"];

/**
 * Whether a text of the made-up language is wholly in it. Each of its words has lost its plain
 * vowels, so a word of English shows anywhere in a line; what is the same in every language is
 * taken out first, by the rules above, and so are addresses and the number of a build.
 */
export function saidIn(tag) {
  const texts = [...published(), ...TYPED];
  const words = new Set([...datesIn(tag), ...namesOfLanguages()]);
  const isPlain = (word) => /[aeiou]/i.test(word) && !words.has(word);
  return (text) => {
    const left = texts.reduce((rest, one) => rest.replaceAll(one, " "), text);
    const own = left.replace(/https?:\S+|\b(?=[a-f]*\d)[0-9a-f]{12}\b/g, " ");
    return !(own.match(/\p{L}+/gu) ?? []).some(isPlain);
  };
}

/** In the page: where the things are that a mirrored page turns round, in CSS pixels from the right edge. */
export function sides() {
  const fromRight = (name) => {
    const box = document.querySelector(name)?.getBoundingClientRect();
    return box && Math.round(document.documentElement.clientWidth - box.right);
  };
  const style = (name, part) => {
    const element = document.querySelector(name);
    return element ? getComputedStyle(element, part) : undefined;
  };
  return {
    direction: document.documentElement.dir,
    back: fromRight(".back"),
    arrow: style(".back svg")?.transform,
    firstStep: fromRight(".step__tape li:first-child"),
    bullet: style(".dots li", "::before")?.right,
    drawing: style("svg.drawing")?.direction,
  };
}

/** The heading of a page, without the count of a step. */
export const title = (page) =>
  page.evaluate(() => {
    const copy = document.querySelector("h1").cloneNode(true);
    copy.querySelector(".step__count")?.remove();
    return copy.textContent.trim();
  });

/** All that a language says without a place to fill. */
export const saysOf = (tag) => new Set(catalogue(tag).flatMap(({ forms }) => forms.map(([, said]) => said)));
