// The demo's engine goes together again through the pages, by two people at once. In the
// middle the program is killed; both go on writing, and nothing is lost or doubled.

import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { LAPTOP, launch, person, PHONE, unsent, write } from "./browser.js";
import { life, Served } from "./served.js";

const BEFORE = ["1-apart.txt", "2-measured.txt"];
const REBUILD = ["3-heads-on.txt", "4-cover-again.txt", "5-together.txt"];

/** How many lines each writes while nobody answers. */
const ALONE = 6;

/** @type {import("playwright-core").Browser} */
let browser;
/** @type {Served} */
let served;

before(async () => {
  browser = await launch();
  served = await Served.demo(...BEFORE);
});
after(async () => {
  await browser?.close();
  await served?.end();
});

test("the rebuild by two people, with the plug pulled in the middle", async () => {
  const lines = life(...REBUILD).map(({ line }) => line);
  assert.ok(lines.length > 100, `${lines.length} lines`);
  const first = served.record().length;
  const people = [
    await person(browser, served.address, "ana", PHONE),
    await person(browser, served.address, "rui", LAPTOP),
  ];
  /** @type {string[][]} */
  const written = [[], []];
  /** @param {string} line @param {number} who */
  const by = async (line, who) => {
    written[who].push(line);
    await write(people[who], line);
  };

  const middle = Math.floor(lines.length / 2);
  for (const [at, line] of lines.slice(0, middle).entries()) {
    await by(line, at % 2);
    await unsent(people[at % 2], 0);
  }

  await served.kill();
  for (const [at, line] of lines.slice(middle, middle + 2 * ALONE).entries()) await by(line, at % 2);
  for (const page of people) await unsent(page, ALONE);
  await served.start();
  for (const page of people) await unsent(page, 0);

  for (const [at, line] of lines.slice(middle + 2 * ALONE).entries()) {
    await by(line, at % 2);
    await unsent(people[at % 2], 0);
  }

  const record = served.record().slice(first);
  assert.equal(record.length, lines.length);
  for (const [at, who] of ["ana", "rui"].entries()) {
    const kept = record.filter((entry) => entry.who === who).map((entry) => entry.line);
    assert.deepEqual(kept, written[at], `the lines of ${who}, once each and in their order`);
  }
  // Both pages were drawn after the last line, whoever wrote it, without being asked to.
  for (const page of people) {
    await page.locator(`main[data-number="${first + lines.length}"]`).waitFor();
  }
});
