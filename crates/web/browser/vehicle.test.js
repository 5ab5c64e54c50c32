// At the vehicle and while it comes apart: two people with an act each, photos first, words
// later, a line read while it is typed, holes tapped on a photo.

import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { LAPTOP, launch, person, PHONE, unsent } from "./browser.js";
import { picture } from "./picture.js";
import { Served } from "./served.js";

/** @type {import("playwright-core").Browser} */
let browser;
/** @type {Served} */
let served;

before(async () => {
  browser = await launch();
  served = await Served.demo("1-apart.txt", "2-measured.txt");
});
after(async () => {
  await browser?.close();
  await served?.end();
});

test("two people each have an act, see each other's, and a tap brings the next", async () => {
  const ana = await person(browser, served.address, "ana", PHONE);
  const rui = await person(browser, served.address, "rui", LAPTOP);
  for (const page of [ana, rui]) await page.goto(`${served.address}/vehicle`);
  const act = async (/** @type {import("playwright-core").Page} */ page) => page.locator("main h1").innerText();
  // Nobody holds anything yet, so both are shown the same first act; ana takes another one.
  const step = await ana.locator("[data-take]").first().getAttribute("data-take");
  await ana.locator("[data-take]").first().click();
  await rui.getByText("In other hands").waitFor();
  await ana.waitForFunction(() => document.querySelector("[data-in-hand]")?.getAttribute("data-in-hand")?.includes("ana: "));
  assert.notEqual(await act(ana), await act(rui));
  // Somebody whose page is older cannot take the same thing.
  const late = await rui.evaluate(async (what) => {
    const body = new URLSearchParams({ what: what ?? "" });
    const answer = await fetch("/hand", { method: "POST", body, headers: { accept: "application/json" } });
    return { status: answer.status, says: await answer.text() };
  }, step);
  assert.equal(late.status, 409);
  assert.match(late.says, /ana has it in hand/);

  const before = await act(rui);
  const line = await rui.locator(".its-line").innerText();
  await rui.locator(".keys button.go").click();
  await unsent(rui, 0);
  await rui.waitForFunction((words) => document.querySelector("main h1")?.textContent !== words, before);
  assert.equal(served.record().at(-1)?.line, line);

  // What was taken and is done is laid down by itself; rui is not told of it any more.
  await ana.locator(".keys button.go").click();
  await unsent(ana, 0);
  await rui.waitForFunction(() => !document.querySelector("[data-hands]")?.textContent?.includes("ana"));
});

test("without script a thing is taken and laid down by the form itself", async () => {
  const context = await browser.newContext({ ...PHONE, javaScriptEnabled: false });
  const page = await context.newPage();
  await page.goto(`${served.address}/vehicle`);
  await page.getByRole("button", { name: "take this one" }).first().click();
  await page.getByRole("button", { name: /^lay it down: / }).click();
  await page.getByRole("button", { name: "take this one" }).first().waitFor();
  assert.equal(await page.getByRole("button", { name: /^lay it down: / }).count(), 0);
  await context.close();
});

test("the keys are as large as a thumb and stay on the screen", async () => {
  const page = await person(browser, served.address, "eva", PHONE);
  await page.goto(`${served.address}/vehicle`);
  const boxes = await page.locator(".keys :is(a, button)").evaluateAll((all) => all.map((one) => one.getBoundingClientRect().toJSON()));
  assert.equal(boxes.length, 3);
  for (const box of boxes) {
    assert.ok(box.height >= 45 && box.width >= 45, JSON.stringify(box));
    assert.ok(box.bottom <= 740, `below the screen: ${JSON.stringify(box)}`);
  }
});

test("a line is read while it is typed", async () => {
  const page = await person(browser, served.address, "eva", PHONE);
  await page.goto(`${served.address}/apart`);
  const field = page.getByLabel("What came off?");
  assert.match((await field.getAttribute("placeholder")) ?? "", /, bag \d+$/);
  await field.pressSequentially("off alternator: 2,5 bolts");
  await page.locator("[data-understood]", { hasText: "Not understood yet." }).waitFor();
  const before = served.record().length;
  await field.fill("note the lamp is weak");
  await page.locator("[data-understood]", { hasText: "the lamp is weak" }).waitFor();
  assert.equal(served.record().length, before);
});

test("a photo waits for its words, then holes are tapped on it", async () => {
  const page = await person(browser, served.address, "eva", PHONE);
  await page.goto(`${served.address}/apart`);
  await page.setInputFiles("input[type=file]", { name: "face.png", mimeType: "image/png", buffer: picture(800, 400) });
  await page.getByRole("button", { name: "Keep the photo" }).click();
  await unsent(page, 0);
  await page.goto(`${served.address}/evening`);
  await page.getByLabel("What it shows").first().fill("water-pump");
  await page.getByLabel("Words", { exact: true }).first().fill("the long bolts sit low");
  await page.getByRole("button", { name: "Say it" }).first().click();
  await page.getByText("Every photo says what it shows.").or(page.locator(".evening li")).first().waitFor();
  await unsent(page, 0);
  assert.match(served.record().at(-1)?.line ?? "", /^caption \d+ of water-pump: the long bolts sit low$/);

  await page.goto(`${served.address}/places?of=water-pump-bolts`);
  await page.locator("main .strip a").first().click();
  await page.getByLabel("Distance between").fill("92.5 mm");
  for (const position of [{ x: 40, y: 40 }, { x: 240, y: 40 }]) {
    await page.locator("input[type=image]").click({ position });
    await page.waitForLoadState();
  }
  const line = await page.locator(".key button", { hasText: "these are the places" }).getAttribute("title");
  const [, right] = /B ([\d.]+) /.exec(line ?? "") ?? [];
  assert.ok(Math.abs(Number(right) - 92.5) < 1, line ?? "");
});
