// Looks at a page as people with different eyes do.

import assert from "node:assert/strict";
import { mkdirSync, readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";
import { PICTURES } from "./served.js";

const AXE = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");

/** The least side of a thing to press, in CSS pixels: 12 mm on a phone are 45. */
const FINGER = 45;

/**
 * Nothing is wider than the screen, what is pressed is as large as a thumb, a screen reader
 * finds its way (axe). Leaves a picture for people.
 * @param {import("playwright-core").Page} page
 * @param {string} name
 */
export async function looked(page, name) {
  await page.evaluate(() => document.fonts.ready);
  mkdirSync(PICTURES, { recursive: true });
  await page.screenshot({ path: join(PICTURES, `${name}.png`), fullPage: true });
  const width = await page.evaluate(() => document.documentElement.scrollWidth);
  const most = page.viewportSize()?.width ?? 0;
  assert.ok(width <= most, `${name} is ${width} px wide`);
  assert.deepEqual(await small(page), [], `${name}: too small for a thumb`);
  assert.deepEqual(await violations(page), [], name);
}

/** @param {import("playwright-core").Page} page */
async function small(page) {
  const pressed = page.locator("button:visible, input:visible:not([type=radio]), select:visible, nav a:visible");
  return pressed.evaluateAll(
    (all, finger) =>
      all
        .map((one) => ({ one, height: one.getBoundingClientRect().height }))
        .filter(({ height }) => height < finger)
        .map(({ one, height }) => `${one.outerHTML.slice(0, 80)} is ${height} px high`),
    FINGER,
  );
}

/** @param {import("playwright-core").Page} page */
async function violations(page) {
  // Run by the test's own hand: the page itself lets no script of others in.
  await page.evaluate(AXE);
  const found = await page.evaluate(() => /** @type {any} */ (window).axe.run());
  return found.violations.map((/** @type {any} */ one) => ({
    rule: one.id,
    where: one.nodes.map((/** @type {any} */ node) => `${node.target} ${node.failureSummary}`),
  }));
}
