// Where the program cannot speak: the paper form, the page without script or without WebAssembly, the
// line that breaks while loading, and the panel after a crash say it in the reader's language.

import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { test } from "node:test";

import { assertAccessible, keptOffline, mounted, scratch } from "./kit.mjs";
import { stage } from "./steps.mjs";
import { outside, packs } from "./tongues.mjs";

const here = stage();
const files = packs();
const tags = ["en", ...files.keys()];
const shellOf = (tag) => files.get(tag).replace("words-", "shell-").replace(".txt", ".json");
const formOf = (tag) => (tag === "en" ? "paper.html" : `paper-${tag}.html`);
const choice = (tag) => localStorage.setItem("two-marks/language", JSON.stringify(tag));

/** A page without a worker, in a language chosen on an earlier visit. */
async function reader(tag, settings = {}) {
  const opened = await here.open({ serviceWorkers: "block", ...settings });
  await opened.page.addInitScript(choice, tag);
  return opened;
}

/** In the page: every text that is seen in a part of it, in order. */
const textsOf = (name) => {
  const texts = [];
  const walker = document.createTreeWalker(document.querySelector(name), NodeFilter.SHOW_TEXT);
  while (walker.nextNode()) {
    const { textContent, parentElement } = walker.currentNode;
    if (textContent.trim() && parentElement.checkVisibility()) texts.push(textContent.trim());
  }
  return texts;
};

/** What of the texts none of the words is. */
const strange = (texts, words) => texts.filter((text) => !Object.values(words).includes(text));

for (const tag of tags) {
  test(`the paper form in ${tag} says all of its words, fits, prints on two sheets and names the others`, async () => {
    const { page, context, watch } = await here.open({ viewport: { width: 320, height: 640 } });
    const words = outside(tag);
    const { folder, release } = scratch();
    try {
      await page.goto(new URL(formOf(tag), here.host.url).href);
      const texts = await page.evaluate(textsOf, "body");
      const names = await page.locator("nav a").allTextContents();
      const own = texts.filter((text) => !names.includes(text) && !/^\d$/.test(text));
      assert.deepEqual(strange(own, words), [], "texts that are none of the language's");
      const unseen = Object.keys(words).filter((id) => /^plain_/.test(id) && !own.includes(words[id]));
      assert.deepEqual(unseen, ["plain_about", "plain_languages"], "words that are on no place");
      assert.equal(await page.title(), `${words.plain_title} - Two Marks`);
      const said = (name) => page.evaluate((its) => document.documentElement.getAttribute(its), name);
      assert.deepEqual([await said("lang"), await said("dir")], [tag, "ltr"]);
      const links = await page
        .locator("nav a")
        .evaluateAll((all) => all.map((link) => [link.lang, link.getAttribute("href")]));
      const others = tags.filter((other) => other !== tag);
      assert.deepEqual(links, others.map((other) => [other, formOf(other)]));
      assert.equal(await page.evaluate(() => document.documentElement.scrollWidth), 320);
      for (const line of await assertAccessible(page)) console.log(`note: left open by axe: ${line}`);
      for (const format of ["A4", "Letter"]) {
        const path = join(folder, `${format}.pdf`);
        writeFileSync(path, await page.pdf({ format, printBackground: true }));
        const told = execFileSync("pdfinfo", [path], { encoding: "utf8" });
        assert.match(told, /^Pages: +2$/m, format);
      }
      const [other] = others;
      await page.locator(`nav a[lang=${other}]`).click();
      await page.getByRole("heading", { name: outside(other).plain_title, exact: true }).waitFor();
      watch.assertSealed(here.host.origin);
      watch.assertCalm();
    } finally {
      await context.close();
      release();
    }
  });

  test(`without WebAssembly the page says so in ${tag}, and leads to the form in ${tag}`, async () => {
    const { page, context } = await reader(tag);
    await page.addInitScript(() => delete globalThis.WebAssembly);
    const words = outside(tag);
    await page.goto(here.host.url);
    await page.getByRole("heading", { name: words.shell_cannot_run, exact: true }).waitFor();
    await page.getByText(words.shell_purpose, { exact: true }).waitFor();
    assert.deepEqual(strange((await page.evaluate(textsOf, "body")).slice(1), words), []);
    await page.getByRole("link", { name: words.shell_paper, exact: true }).click();
    await page.getByRole("heading", { name: words.plain_title, exact: true }).waitFor();
    await context.close();
  });

  test(`a line that breaks while loading is told in ${tag}, and can be tried again`, async () => {
    const { page, context } = await reader(tag);
    await page.route("**/*.wasm", (route) => route.abort());
    const words = outside(tag);
    await page.goto(here.host.url);
    await page.getByRole("heading", { name: words.shell_broken_line, exact: true }).waitFor();
    assert.deepEqual(strange((await page.evaluate(textsOf, "body")).slice(1), words), []);
    assert.ok(await page.locator("#crash").isHidden(), "the same is told as a crash too");
    const paper = page.getByRole("link", { name: words.shell_paper, exact: true });
    assert.equal(await paper.evaluate((link) => link.getAttribute("href")), formOf(tag));
    await page.unroute("**/*.wasm");
    await page.getByRole("button", { name: words.shell_try_again, exact: true }).click();
    await mounted(page);
    await context.close();
  });

  test(`the panel after a crash speaks ${tag}, and counts what is in the copy`, async () => {
    const { page, context, watch } = await reader(tag);
    const words = outside(tag);
    await page.goto(here.host.url);
    await mounted(page);
    await page.evaluate(() => {
      localStorage.setItem("two-marks/r/1", '{"a":1}');
      window.dispatchEvent(new CustomEvent("two-marks:panic"));
    });
    await page.getByRole("heading", { name: words.shell_broke, exact: true }).waitFor();
    assert.deepEqual(strange(await page.evaluate(textsOf, "#crash"), words), []);
    const waiting = page.waitForEvent("download");
    await page.getByRole("button", { name: words.shell_save_copy, exact: true }).click();
    await waiting;
    await page.getByText(words.shell_copied.replace("{count}", "1"), { exact: true }).waitFor();
    await page.evaluate(() => {
      Storage.prototype.getItem = () => {
        throw new Error("shut");
      };
    });
    await page.getByRole("button", { name: words.shell_save_copy, exact: true }).click();
    await page.getByText(words.shell_storage_shut, { exact: true }).and(page.locator("[role=status]")).waitFor();
    watch.assertCalm();
    await context.close();
  });
}

test("without script, every language has its line, and a link to its form", async () => {
  const { page, context } = await here.open({ javaScriptEnabled: false });
  for (const tag of tags) {
    const { no_script: line, no_script_paper: link, plain_title: heading } = outside(tag);
    await page.goto(here.host.url);
    const own = page.locator("p", { hasText: line });
    assert.equal(await own.getAttribute("lang"), tag);
    await own.getByRole("link", { name: link, exact: true }).click();
    await page.getByRole("heading", { name: heading, exact: true }).waitFor();
  }
  await context.close();
});

test("the panel follows a language chosen in the page, and without a network too", async () => {
  const { page, context } = await here.open();
  await page.goto(here.host.url);
  await keptOffline(page);
  await here.host.pause();
  try {
    for (const tag of [...files.keys(), "en"]) {
      await page.locator(".tongues").evaluate((list) => (list.open = true));
      await page.locator(`.tongue[lang=${tag}]`).click();
      await page.waitForFunction((its) => document.documentElement.lang === its, tag);
      const title = outside(tag).shell_broke;
      await page.waitForFunction((its) => document.querySelector("#crash-title").textContent === its, title);
    }
    for (const tag of tags) {
      await page.goto(new URL(formOf(tag), here.host.url).href);
      await page.getByRole("heading", { name: outside(tag).plain_title, exact: true }).waitFor();
    }
  } finally {
    await here.host.resume();
    await context.close();
  }
});

test("words of the shell that do not arrive, or are torn, leave it in English", async () => {
  const words = outside("en");
  for (const answer of [undefined, { status: 404 }, { body: '{"shell_bro' }]) {
    const { page, context } = await reader("de");
    let asked = 0;
    await page.route(`**/${shellOf("de")}`, (route) => {
      asked += 1;
      return answer ? route.fulfill(answer) : route.abort();
    });
    await page.addInitScript(() => delete globalThis.WebAssembly);
    const answered = page.waitForEvent(answer ? "requestfinished" : "requestfailed", (request) =>
      request.url().endsWith(shellOf("de")),
    );
    await page.goto(here.host.url);
    await answered;
    await page.getByRole("heading", { name: words.shell_cannot_run, exact: true }).waitFor();
    assert.equal(asked, 1);
    assert.deepEqual(strange((await page.evaluate(textsOf, "body")).slice(1), words), []);
    // The form is in the language all the same: it is a page of its own.
    await page.getByRole("link", { name: words.shell_paper, exact: true }).click();
    await page.getByRole("heading", { name: outside("de").plain_title, exact: true }).waitFor();
    await context.close();
  }
});
