// The first minutes: a phone is let in, and a job is begun in five answers.

import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { launch, PHONE, unsent, write } from "./browser.js";
import { looked } from "./looked.js";
import { Served } from "./served.js";

/** @type {import("playwright-core").Browser} */
let browser;
before(async () => {
  browser = await launch();
});
after(() => browser?.close());

test("a new job in five answers, each of which may be left out", async () => {
  const served = Served.nothing();
  await served.start();
  const page = await (await browser.newContext(PHONE)).newPage();
  await page.goto(served.address);
  await looked(page, "begin-phone-light");
  await page.getByLabel("What is it for?").fill("loses coolant");
  await page.getByLabel("What does your torque wrench").fill("the big one");
  await page.getByRole("button", { name: "Begin" }).click();
  await page.getByText("is not understood as the range").waitFor();
  await page.getByLabel("What does your torque wrench").fill("");
  await page.getByLabel("Who works on it?").fill("Ana, Rui");
  await page.getByRole("button", { name: "Begin" }).click();
  await page.getByText("Last: note loses coolant, Ana").waitFor();
  // The job began without a book: what is taken off is met now.
  await write(page, "off cover: 4 bolts M6x20, bag 1");
  await unsent(page, 0);
  assert.deepEqual(served.record(), [
    { who: "Ana", line: "note loses coolant" },
    { who: "Ana", line: "off cover: 4 bolts M6x20, bag 1" },
  ]);
  await page.context().close();
  await served.end();
});

test("a phone is let in by the pairing link, another only to look", async () => {
  const served = await Served.demo();
  await served.kill();
  await served.start("--lan");
  const page = await (await browser.newContext(PHONE)).newPage();
  await page.goto(served.address);
  await page.getByText("Not let in yet").waitFor();
  await page.goto(`${served.address}/pair/${served.key("write")}`);
  await looked(page, "pair-phone-light");
  await page.getByRole("button", { name: "ana" }).click();
  await write(page, "note the lamp is weak");
  await unsent(page, 0);
  assert.equal(served.record().at(-1)?.who, "ana");

  const other = await (await browser.newContext(PHONE)).newPage();
  await other.goto(`${served.address}/pair/${served.key("look")}`);
  await other.getByRole("link", { name: "To the pages" }).click();
  await other.getByText("Last: note the lamp is weak").waitFor();
  assert.equal(await other.locator("form").count(), 0);
  // What others write comes in here too.
  await write(page, "note the lamp is changed");
  await other.getByText("Last: note the lamp is changed").waitFor();
  await served.end();
});

test("the whole job is taken along in one file", async () => {
  const served = await Served.demo("2-measured.txt");
  const page = await (await browser.newContext(PHONE)).newPage();
  await page.goto(`${served.address}/day`);
  const coming = page.waitForEvent("download");
  await page.getByRole("link", { name: "Take a copy" }).click();
  const download = await coming;
  const again = Served.nothing();
  again.layOut(await download.path());
  assert.deepEqual(again.record(), served.record());
  await page.context().close();
  await again.end();
  await served.end();
});
