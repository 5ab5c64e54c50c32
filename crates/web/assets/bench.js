// @ts-check
/**
 * What the script adds to pages that work without it: lines go through a queue that survives a
 * lost connection, news of the others come in by themselves, and a page is never left for one
 * that does not come.
 */

import { Ear } from "./ear.js";
import { letterOf, Queue } from "./queue.js";
import { Pages } from "./pages.js";
import { Shown } from "./shown.js";

/** Milliseconds in which the same line from the same key is one press by a shaky thumb. */
const ONE_PRESS = 700;

async function start() {
  // A phone that is not let in yet, or a line to mend: nothing to hear there.
  if (!document.querySelector("main[data-job]")) return;
  const queue = await Queue.open();
  const pages = new Pages();
  const shown = new Shown(queue);
  const ear = new Ear(() => pages.number);

  queue.changed = () => shown.queue();
  queue.kept = (_letter, report) => shown.said(report);
  // An answer that never came is waited for less once the bench is heard again.
  ear.heard = () => queue.send();
  ear.entry = (entry) => pages.behind(entry.number);
  ear.last = (number) => number < pages.number && pages.again();
  ear.anew = () => pages.again();
  ear.answer = () => pages.answered();
  ear.hands = (hands) => {
    shown.hands(hands);
    pages.hands(hands);
  };
  pages.drawn = () => shown.queue();
  pages.lost = () => shown.lost();

  let pressed = { at: -ONE_PRESS, says: "" };
  document.addEventListener("submit", async (event) => {
    const form = /** @type {HTMLFormElement} */ (event.target);
    if (event.defaultPrevented || !form.matches("[data-entry]")) return;
    const who = pages.who;
    if (!who) return;
    event.preventDefault();
    const letter = letterOf(form, event.submitter, { who, job: pages.job });
    const again = event.timeStamp - pressed.at < ONE_PRESS && pressed.says === letter.says;
    if (again) return;
    pressed = { at: event.timeStamp, says: letter.says };
    await queue.add(letter);
    form.reset();
    queue.send();
  });

  document.addEventListener("click", (event) => {
    const button = /** @type {Element} */ (event.target).closest("button[data-take]");
    if (button) take(button.getAttribute("data-take") ?? "");
  });

  addEventListener("beforeunload", (event) => {
    if (queue.unsent > 0) event.preventDefault();
  });
  for (const wake of ["online", "pageshow", "focus"]) addEventListener(wake, () => queue.send());
  document.addEventListener("visibilitychange", () => {
    if (document.hidden) return ear.close();
    ear.open();
    queue.send();
  });

  await shown.queue();
  ear.open();
  queue.send();
}

/**
 * Takes a thing in hand, or lays it down. It is told while it is so and not kept.
 * @param {string} what
 */
function take(what) {
  fetch("/hand", { method: "POST", body: new URLSearchParams({ what }) }).catch(() => {});
}

// Without a database of its own a browser sends forms itself, as it does without script.
start().catch((fault) => console.warn("matchmark: pages without queue:", fault));
