// What a page keeps while nobody answers, and what becomes of it.

import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { launch, person, PHONE, unsent, write } from "./browser.js";
import { picture } from "./picture.js";
import { Served } from "./served.js";

/** @type {import("playwright-core").Browser} */
let browser;
/** @type {Served} */
let served;

before(async () => {
  browser = await launch();
  served = await Served.demo();
});
after(async () => {
  await browser?.close();
  await served?.end();
});

const lines = () => served.record().map(({ line }) => line);

test("a page on plain http is what a phone has: no worker, no secure context", async () => {
  const page = await person(browser, served.address, "ana", PHONE);
  assert.equal(await page.evaluate(() => window.isSecureContext), false);
  await page.context().close();
});

test("lines of a page that was closed unsent are sent by the next", async () => {
  const page = await person(browser, served.address, "ana", PHONE);
  await served.kill();
  await write(page, "note the drain pan is cracked");
  await unsent(page, 1);
  // Closed as a phone closes a page: nobody is asked.
  await page.close({ runBeforeUnload: false });
  await served.start();
  const next = await page.context().newPage();
  await next.goto(served.address);
  await unsent(next, 0);
  assert.equal(lines().filter((line) => line === "note the drain pan is cracked").length, 1);
  await next.context().close();
});

test("a photo taken while nobody answers is sent when somebody does", async () => {
  const page = await person(browser, served.address, "ana", PHONE);
  await page.goto(`${served.address}/apart`);
  await served.kill();
  await page.setInputFiles("input[type=file]", { name: "bag.png", mimeType: "image/png", buffer: picture(400, 300) });
  await page.getByRole("button", { name: "Keep the photo" }).click();
  await unsent(page, 1);
  await served.start();
  await unsent(page, 0);
  assert.match(lines().at(-1) ?? "", /^photo file [0-9a-f]{64} bag \d+$/);
  await page.context().close();
});

test("a page that does not come leaves the one that is here", async () => {
  const page = await person(browser, served.address, "ana", PHONE);
  await served.kill();
  const title = await page.title();
  await page.getByRole("link", { name: "ana" }).click();
  await page.getByText("No connection.").waitFor();
  assert.equal(await page.title(), title);
  await served.start();
  await page.context().close();
});

test("a bench that sleeps gets the line when it wakes", async () => {
  const page = await person(browser, served.address, "ana", PHONE);
  served.sleep();
  await write(page, "note the bench fell asleep");
  await unsent(page, 1);
  served.wake();
  await unsent(page, 0);
  assert.equal(lines().filter((line) => line === "note the bench fell asleep").length, 1);
  await page.context().close();
});

test("a phone that slept asks for what it missed", async () => {
  const page = await person(browser, served.address, "ana", PHONE);
  await page.clock.install();
  await page.goto(served.address);
  await unsent(page, 0);
  const number = await page.locator("main").getAttribute("data-number");
  const asks = page.waitForRequest(`**/news?after=${number}`);
  // The clock leaps, as it does over a night; the line looks open and nothing came over it.
  await page.clock.fastForward("08:00:00");
  await asks;
  await page.context().close();
});

test("an answer that got lost on its way keeps the line once", async () => {
  const page = await person(browser, served.address, "ana", PHONE);
  let lost = 0;
  await page.route("**/entry", async (route) => {
    if (lost > 0) return route.continue();
    lost += 1;
    await served.deliver(route.request());
    await route.abort("connectionreset");
  });
  await write(page, "note the lamp flickers");
  await unsent(page, 0);
  assert.equal(lost, 1);
  assert.equal(lines().filter((line) => line === "note the lamp flickers").length, 1);
  await page.context().close();
});

test("a line that is not understood can be mended, and the rest goes on", async () => {
  const page = await person(browser, served.address, "ana", PHONE);
  await write(page, "frobnicate the cover");
  await page.getByRole("button", { name: "Mend it" }).waitFor();
  await write(page, "note this one is fine");
  await unsent(page, 0);
  assert.ok(lines().includes("note this one is fine"));
  await page.getByRole("button", { name: "Mend it" }).click();
  const field = page.getByLabel("What did you do?");
  assert.equal(await field.inputValue(), "frobnicate the cover");
  await page.getByRole("button", { name: "Mend it" }).waitFor({ state: "detached" });
  await page.context().close();
});

test("what is being typed is not drawn over by news", async () => {
  const page = await person(browser, served.address, "ana", PHONE);
  const field = page.getByLabel("What did you do?");
  await field.fill("off cover: 4 bo");
  served.log("rui", "note from the other side");
  const number = served.record().length;
  await page.locator(`main[data-number="${number}"]`).waitFor();
  assert.equal(await field.inputValue(), "off cover: 4 bo");
  await page.context().close();
});

test("a record begun anew does not get the lines of the old one", async () => {
  const page = await person(browser, served.address, "ana", PHONE);
  await served.kill();
  await write(page, "note of the old job");
  await unsent(page, 1);
  served.begunAnew();
  await served.start();
  await page.getByText("it was written for another job").waitFor();
  assert.ok(!lines().includes("note of the old job"));
  await page.context().close();
});

test("without script a line is written by the form itself", async () => {
  const context = await browser.newContext({ ...PHONE, javaScriptEnabled: false });
  const page = await context.newPage();
  await page.goto(served.address);
  await write(page, "note written without script");
  await page.getByText("note written without script").waitFor();
  assert.ok(lines().includes("note written without script"));
  await context.close();
});
