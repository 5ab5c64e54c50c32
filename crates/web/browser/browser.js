// The browser, as a phone or a laptop in the workshop has it: plain http, a name that is not
// this machine's, nothing kept from before.

import { existsSync } from "node:fs";
import { chromium } from "playwright-core";
import { NAME } from "./served.js";

const PLACES = [process.env.CHROMIUM, "/usr/bin/chromium", "/usr/bin/chromium-browser", "/usr/bin/google-chrome"];

const MANNERS = [
  "--headless=new",
  "--no-sandbox",
  "--disable-gpu",
  "--disable-quic",
  "--no-first-run",
  "--disable-background-networking",
  "--disable-component-update",
  "--disable-sync",
  `--host-resolver-rules=MAP ${NAME} 127.0.0.1`,
];

/** Starts a browser with a folder of its own. */
export function launch() {
  const executablePath = PLACES.find((place) => place && existsSync(place));
  if (!executablePath) throw new Error("no Chromium: apt-get install chromium, or name it in CHROMIUM");
  return chromium.launch({ executablePath, args: MANNERS });
}

/** A phone at the vehicle. */
export const PHONE = { viewport: { width: 360, height: 740 }, hasTouch: true };

/** A laptop on the shelf. */
export const LAPTOP = { viewport: { width: 1400, height: 900 } };

/**
 * A person with a device of their own, who said a name.
 * @param {import("playwright-core").Browser} browser
 * @param {string} address
 * @param {string} who
 * @param {import("playwright-core").BrowserContextOptions} device
 */
export async function person(browser, address, who, device) {
  const context = await browser.newContext(device);
  const page = await context.newPage();
  await page.goto(`${address}/who`);
  await page.getByLabel("Another name").fill(who);
  await page.getByRole("button", { name: "That is me" }).click();
  await page.locator(`main[data-who="${who}"]`).waitFor();
  return page;
}

/**
 * Types a line at the thumb and sends it; the field is empty once the line is kept on the phone.
 * @param {import("playwright-core").Page} page
 * @param {string} line
 */
export async function write(page, line) {
  const field = page.getByLabel("What did you do?");
  await field.fill(line);
  await page.getByRole("button", { name: "Write it down" }).click();
  await page.waitForFunction((input) => /** @type {HTMLInputElement} */ (input).value === "", await field.elementHandle());
}

/**
 * Waits until the page says how many lines are not sent yet.
 * @param {import("playwright-core").Page} page
 * @param {number} count
 */
export async function unsent(page, count) {
  const words = count === 0 ? "all sent" : `${count} not sent yet`;
  await page.locator("[data-unsent]", { hasText: words }).waitFor();
}
