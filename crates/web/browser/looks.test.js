// Every page, on a phone and on a laptop, by day and by night: nothing is wider than the
// screen, a screen reader finds its way (axe), and a picture is left for people to look at.

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { after, before, test } from "node:test";
import { LAPTOP, launch, PHONE } from "./browser.js";
import { looked } from "./looked.js";
import { Served } from "./served.js";

const ROUTES = readFileSync(new URL("../src/routes.rs", import.meta.url), "utf8");

/** The addresses of the list in the program itself, so that no new page is left out. */
const ADDRESSES = [...ROUTES.matchAll(/\("(\/[^"]*)", page::/g)].map((found) => found[1]);

/** @type {import("playwright-core").Browser} */
let browser;
/** @type {Served} */
let served;
/** @type {string[]} */
let pages;

before(async () => {
  browser = await launch();
  served = await Served.demo("1-apart.txt", "2-measured.txt", "3-heads-on.txt");
  pages = await concrete();
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
  return address.split("?")[0].replaceAll("/", "-").replace(/^-/, "") || "now";
}
