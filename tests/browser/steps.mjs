// The steps of a test as a person takes them, by the names a screen reader tells.

import { readFileSync } from "node:fs";
import { after, before } from "node:test";
import { fileURLToPath } from "node:url";
import ICAL from "ical.js";

import { arrived, mounted, press, startBrowser, startHost } from "./kit.mjs";

/** Counts taps: every click and tick of a run goes through here. */
export function taps(page) {
  const count = { taps: 0 };
  const tap = async (locator) => {
    count.taps += 1;
    await locator.click();
  };
  return Object.assign(count, {
    press: (name) => tap(page.getByRole("button", { name })),
    choose: (name) => tap(page.getByRole("radio", { name, exact: true })),
    no: (id) => tap(page.locator(`#${id}`).getByRole("radio", { name: "No" })),
    yes: (id) => tap(page.locator(`#${id}`).getByRole("radio", { name: "Yes" })),
    tick: (name) => tap(page.getByRole("checkbox", { name })),
  });
}

/** From the first open to the ready check of somebody of 15 to 17. */
export async function firstOpen(page, url) {
  await page.goto(url);
  await mounted(page);
  return begin(page);
}

/** The same on a page that is open already. */
export async function begin(page) {
  const person = taps(page);
  await person.press("Start a test");
  await person.choose("15 to 17");
  return person;
}

/** Through a ready check without trouble. */
export async function passReady(person) {
  await person.press("Go to the ready check");
  for (const question of ["unwell", "fits", "legs"]) await person.no(question);
  await person.tick("All of this is true");
  await person.press("Go to warm-up");
  await person.press("I am warm");
}

/** Types a reading and keeps it. */
export async function keep(page, text) {
  await page.locator("#entry").fill(text);
  await page.locator("#main-action").click();
}

/** A whole test in centimetres, up to the page that shows all readings. */
export async function wholeTest(page, url) {
  const person = await firstOpen(page, url);
  await measureAll(page, person);
}

/** From the ready check to the page that shows all readings. */
export async function measureAll(page, person) {
  await passReady(person);
  await person.press("Go to the reach");
  for (const reach of ["224", "225", "224,5"]) await keep(page, reach);
  await press(page, "Go on to the jumps");
  await page.getByRole("button", { name: "No", exact: true }).click();
  for (const mark of ["265.5", "266.5", "268", "267.5"]) await keep(page, mark);
  await press(page, "Check the readings");
}

/** In the page: every write to the browser's stores throws from now on. */
export function refuseWrites(name) {
  globalThis.writeItem ??= Storage.prototype.setItem;
  Storage.prototype.setItem = () => {
    throw new DOMException("refused", name);
  };
}

/** In the page: writes work again. */
export function takeWrites() {
  Storage.prototype.setItem = globalThis.writeItem;
}

/** Whose browser the tests use: dates, units and the clock follow from it. */
export const LOCALE = { locale: "en-GB", timezoneId: "Europe/Paris" };

/** The one event of a calendar file that was saved, as a library for such files reads it (RFC 5545). */
export async function savedEvent(download) {
  const calendar = new ICAL.Component(ICAL.parse(readFileSync(await download.path(), "utf8")));
  const events = calendar.getAllSubcomponents("vevent");
  if (events.length !== 1) throw new Error(`${events.length} events`);
  const event = new ICAL.Event(events[0]);
  const alarm = events[0].getFirstSubcomponent("valarm").getFirstPropertyValue("trigger");
  return {
    uid: event.uid,
    title: event.summary,
    zone: event.startDate.zone.tzid,
    start: event.startDate.toJSDate(),
    minutes: event.duration.toSeconds() / 60,
    alarmMinutes: alarm.toSeconds() / 60,
  };
}

/** The host and the browser of one file of tests, there for as long as its tests run. */
export function stage() {
  const here = {
    host: undefined,
    open: (more = {}) => here.browser.open({ ...LOCALE, ...more }),
  };
  before(async () => {
    here.host = await startHost();
    here.browser = await startBrowser();
  });
  after(async () => {
    await here.browser?.stop();
    await here.host?.stop();
  });
  return here;
}

/** Waits for a page by its heading. */
export async function heading(page, name) {
  await page.getByRole("heading", { level: 1, name }).waitFor();
  await arrived(page);
}

/** Waits until the page says that a test is on the disk. */
export const saved = (page) => page.getByText("Saved on this device.").waitFor();

const FAMILY = fileURLToPath(new URL("season-family.json", import.meta.url));

/** The first page with an invented family of two children on the device, restored from a backup. */
export async function withFamily(page, url, seePreview = () => {}) {
  await page.goto(`${url}#/data`);
  await mounted(page);
  await page.locator("#restore-file").setInputFiles(FAMILY);
  await page.getByRole("button", { name: "Restore this" }).waitFor();
  await seePreview();
  await press(page, "Restore this");
  await page.getByText("Restored.").waitFor();
  await page.goto(`${url}#/`);
}

/** In the page: the lines of the journal, as they are on the disk. */
export async function journalLines() {
  const answer = (asked) =>
    new Promise((resolve, reject) => {
      asked.onsuccess = () => resolve(asked.result);
      asked.onerror = () => reject(asked.error);
    });
  const opened = await answer(indexedDB.open("two-marks"));
  const lines = await answer(opened.transaction("journal").objectStore("journal").getAll());
  opened.close();
  return lines;
}

/** A whole test, saved. */
export async function savedTest(page, url) {
  await wholeTest(page, url);
  await press(page, "Save result");
  await saved(page);
}
