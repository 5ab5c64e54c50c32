// Every page, on a phone and on a laptop, by day and by night: nothing is wider than the
// screen, a screen reader finds its way (axe), and a picture is left for people to look at.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { after, before, test } from "node:test";
import { LAPTOP, launch, PHONE } from "./browser.js";
import { looked } from "./looked.js";
import { PICTURES, Served } from "./served.js";

const ROUTES = readFileSync(new URL("../src/routes.rs", import.meta.url), "utf8");

/** The addresses of the list in the program itself, so that no new page is left out. */
const ADDRESSES = [...ROUTES.matchAll(/\("(\/[^"]*)", page::/g)].map((found) => found[1]);

/** Pages that show one thing, which their bare address does not. */
const SINGLE = [
  "/vehicle?for=water-pump",
  "/apart?for=water-pump",
  "/tightening?joint=runners-to-bulkhead",
  "/readings?of=cylinders",
  "/readings?of=bulkhead-head-flat",
  "/readings?of=shims",
  "/gates?name=fire",
  "/fights?what=coil-pack&step=on+coil-pack",
  "/show?what=water-pump",
  "/places?of=water-pump-bolts",
  "/ledger?where=water-pump",
];

/** @type {import("playwright-core").Browser} */
let browser;
/** @type {Served} */
let served;
/** @type {string[]} */
let pages;

before(async () => {
  browser = await launch();
  served = await Served.demo("1-apart.txt", "2-measured.txt", "3-heads-on.txt");
  pages = [...(await concrete()), ...SINGLE];
});
after(async () => {
  await browser?.close();
  await served?.end();
});

test("the list of pages was found", () => {
  assert.ok(ADDRESSES.length >= 2, ADDRESSES.join(" "));
});

for (const [device, options] of Object.entries({ phone: PHONE, laptop: LAPTOP })) {
  for (const colorScheme of /** @type {const} */ (["light", "dark"])) {
    test(`every page on a ${device}, ${colorScheme}`, async () => {
      const context = await browser.newContext({ ...options, colorScheme });
      const page = await context.newPage();
      for (const address of pages) {
        await page.goto(served.address + address);
        await page.locator("[data-unsent]", { hasText: "all sent" }).waitFor();
        await looked(page, `${named(address)}-${device}-${colorScheme}`);
      }
      await context.close();
    });
  }
}

/** Addresses with a name in them, filled in by a link that some page has. */
async function concrete() {
  const page = await (await browser.newContext()).newPage();
  /** @type {string[]} */
  const links = [];
  for (const address of ADDRESSES.filter((address) => !address.includes("{"))) {
    await page.goto(served.address + address);
    links.push(...(await page.locator("main a[href], header a[href]").evaluateAll((all) =>
      all.map((link) => link.getAttribute("href") ?? ""))));
  }
  await page.context().close();
  return ADDRESSES.map((address) => {
    if (!address.includes("{")) return address;
    const pattern = new RegExp(`^${address.replace(/\{[^}]*\}/g, "[^/?#]+")}$`);
    const link = links.find((link) => pattern.test(link.split(/[?#]/)[0]));
    assert.ok(link, `no page leads to ${address}`);
    return link;
  });
}

/** @param {string} address */
function named(address) {
  return address.replace(/^\//, "").replaceAll(/[^a-z0-9]+/g, "-") || "now";
}

test("on paper everything is grey, and nothing is left to press", async () => {
  const context = await browser.newContext({ viewport: { width: 760, height: 1080 }, colorScheme: "dark" });
  const page = await context.newPage();
  for (const address of ["/vehicle", "/ledger", "/tightening?joint=runners-to-bulkhead", "/ends", "/day", "/story?all=1"]) {
    await page.goto(served.address + address);
    await page.emulateMedia({ media: "print" });
    await page.screenshot({ path: join(PICTURES, `${named(address)}-print.png`), fullPage: true });
    assert.deepEqual(await coloured(page), [], address);
    assert.equal(await page.locator("button:visible, input:visible, header.top:visible, footer:visible").count(), 0, address);
    await page.emulateMedia({ media: "screen" });
  }
  await context.close();
});

/**
 * What is printed in a colour that is no grey.
 * @param {import("playwright-core").Page} page
 */
async function coloured(page) {
  return page.locator("main, main *:visible").evaluateAll((all) => {
    const sides = ["color", "backgroundColor", "borderLeftColor", "borderTopColor", "fill", "stroke"];
    const isGrey = (/** @type {string} */ colour) => {
      const [red, green, blue] = colour.match(/[\d.]+/g)?.map(Number) ?? [0, 0, 0];
      return red === green && green === blue;
    };
    return all.flatMap((one) => {
      const style = /** @type {any} */ (getComputedStyle(one));
      return sides
        .filter((side) => !isGrey(style[side]))
        .map((side) => `${one.outerHTML.slice(0, 60)}: ${side} ${style[side]}`);
    });
  });
}

test("every page can be read without script", async () => {
  const context = await browser.newContext({ ...PHONE, javaScriptEnabled: false });
  const page = await context.newPage();
  for (const address of pages) {
    await page.goto(served.address + address);
    assert.ok((await page.locator("main h1").innerText()).length > 0, address);
    assert.ok((await page.locator("main").innerText()).length > 20, address);
  }
  await context.close();
});

test("a keyboard alone skips to the page, walks through it and presses the key", async () => {
  const context = await browser.newContext(LAPTOP);
  const page = await context.newPage();
  await page.goto(`${served.address}/vehicle`);
  const at = () => page.evaluate(() => document.activeElement?.textContent?.trim() ?? "");
  await page.keyboard.press("Tab");
  assert.equal(await at(), "To the page");
  await page.keyboard.press("Enter");
  const before = served.record().length;
  for (let step = 0; (await at()) !== "it's on"; step++) {
    assert.ok(step < 60, "the key is never reached");
    await page.keyboard.press("Tab");
    const ring = await page.evaluate(() => getComputedStyle(/** @type {Element} */ (document.activeElement)).outlineStyle);
    assert.notEqual(ring, "none", `where the keyboard is can be seen: ${await at()}`);
  }
  await page.keyboard.press("Enter");
  await page.locator(`main[data-number="${before + 1}"]`).waitFor();
  assert.match(served.record().at(-1)?.line ?? "", /^on /);
  await context.close();
});
