// The figure at the thumb, a tap a stage, single bolts, a table of valves, photos that others may
// see: what the forms write is a typed line like any other.

import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { launch, person, PHONE, unsent } from "./browser.js";
import { looked } from "./looked.js";
import { picture } from "./picture.js";
import { Served } from "./served.js";

/** @type {import("playwright-core").Browser} */
let browser;
/** @type {Served} */
let served;

before(async () => {
  browser = await launch();
  served = await Served.demo("1-apart.txt", "2-measured.txt", "3-heads-on.txt", "4-cover-again.txt");
  await served.kill();
  served.log("ana", "on water-pump: 5 bolts M8x35, 2 bolts M8x90, 1 new water pump gasket");
  await served.start();
});
after(async () => {
  await browser?.close();
  await served?.end();
});

const last = () => served.record().at(-1)?.line ?? "";

test("a joint in hand: its drawing, the act and the figure stand over the keys of a phone", async () => {
  const page = await person(browser, served.address, "ana", PHONE);
  await page.evaluate(() => fetch("/hand", { method: "POST", body: new URLSearchParams({ what: "do-up water-pump-bolts" }) }));
  await page.goto(`${served.address}/vehicle`);
  await page.getByRole("heading", { name: "do up water-pump-bolts" }).waitFor();
  // The book says 21 N·m; the wrench of the workshop has a scale in lbf·in.
  assert.equal(await page.locator(".large").innerText(), "186 lbf·in");
  assert.match(await page.locator(".why").first().innerText(), /goes over it/);
  const box = async (/** @type {string} */ of) => {
    const found = await page.locator(of).first().boundingBox();
    assert.ok(found, of);
    return found;
  };
  const [drawing, figure, keys] = [await box('[aria-label="Water pump"]'), await box(".large"), await box(".keys")];
  assert.ok(drawing.y < figure.y && figure.y + figure.height <= keys.y, JSON.stringify({ drawing, figure, keys }));
  await looked(page, "vehicle-joint-phone-light");
  await page.context().close();
});

test("a tap a stage, and single bolts for exceptions", async () => {
  const page = await person(browser, served.address, "ana", PHONE);
  await page.goto(`${served.address}/tightening?joint=water-pump-bolts`);
  await page.getByText("A single bolt").click();
  await page.getByLabel("Which").first().selectOption("G");
  await page.getByRole("button", { name: "This one has had its pull" }).click();
  await unsent(page, 0);
  assert.equal(last(), "tight water-pump-bolts hole G stage 1 21 N·m wrench small dry");
  await page.getByRole("button", { name: "only D" }).click();
  await unsent(page, 0);
  assert.equal(last(), "tight water-pump-bolts hole D stage 1 21 N·m wrench small dry");
  await page.getByRole("button", { name: "only C" }).waitFor();
  await page.getByRole("button", { name: "stage 1 is done, all of it" }).click();
  await unsent(page, 0);
  assert.match(last(), /^tight water-pump-bolts holes A..C and E..F stage 1 /);
  await page.context().close();
});

test("one valve is measured again in a table that holds the others", async () => {
  const page = await person(browser, served.address, "ana", PHONE);
  await page.goto(`${served.address}/readings?of=shims`);
  await page.getByLabel("inlet 2, valve 1, clearance in mm").fill("0.31");
  await page.getByRole("button", { name: "Write the clearances down" }).first().click();
  await unsent(page, 0);
  assert.match(last(), /^read lash-inlet: 0\.18 0\.20 0\.31 0\.19 .* mm$/);
  await page.locator(".verdict", { hasText: "outside" }).waitFor();
  await page.context().close();
});

test("a photo is looked through before others may see it", async () => {
  const page = await person(browser, served.address, "ana", PHONE);
  await page.goto(`${served.address}/photos`);
  await page.setInputFiles("input[type=file]", { name: "pump.png", mimeType: "image/png", buffer: picture(600, 400) });
  await page.getByLabel("Words beside it").fill("of water-pump: the long bolts sit low");
  await page.getByRole("button", { name: "Keep the photo" }).click();
  await unsent(page, 0);
  const photo = page.locator(".gallery li", { hasText: "the long bolts sit low" });
  await photo.getByText("Others may see it").click();
  await photo.getByLabel("Look it through").fill("no plate, no face");
  await photo.getByRole("button", { name: "Show it" }).click();
  await unsent(page, 0);
  assert.match(last(), /^show \d+: no plate, no face$/);
  await photo.getByRole("button", { name: "keep it in the house" }).waitFor();
  await looked(page, "photos-shown-phone-light");
  await page.context().close();
});
